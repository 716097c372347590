# The site with what a server needs. Debian 12 and Python 3.11, which the tests run on.
FROM python:3.11-slim-bookworm

RUN apt-get update \
 && apt-get install -y --no-install-recommends libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 \
 && rm -rf /var/lib/apt/lists/*

WORKDIR /shop
COPY requirements-server.lock .
RUN pip install --no-cache-dir --require-hashes -r requirements-server.lock
COPY . .
# The account below may not keep what it compiles, and each errand is a process of its own.
RUN python -m compileall -q config orders planner

# An account that owns the data and nothing of the program.
RUN useradd --create-home --uid 1000 shop && install -d -o shop -m 700 /data
USER shop
ENV DATA_DIR=/data PYTHONUNBUFFERED=1
VOLUME /data
CMD ["python", "manage.py", "serve"]
