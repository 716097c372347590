"""Settings of the site; docs/reference/settings.md lists the ones read from the environment."""

from pathlib import Path
from urllib.parse import urlsplit

from config import environment
from config.postgres import on_a_server

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = environment.private_folder("DATA_DIR", BASE_DIR / "data")
HOST = environment.text("HOST", "127.0.0.1")
PORT = environment.port("PORT", 8000)
ADDRESS = environment.address("ADDRESS") or environment.address_in_the_network(HOST, PORT)
DEBUG = environment.flag("DEBUG")
SECRET_KEY = environment.secret("SECRET_KEY", kept_in=DATA_DIR / "secret-key")

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "orders",
]
MIDDLEWARE = [
    "config.faults.numbered",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "config.headers.small_pages",
    "config.headers.private_pages",
    "config.faults.not_too_large",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "config.kept_pages.KeptPages",  # the last: whoever asks has passed all the others
]
ROOT_URLCONF = "config.urls"
WSGI_APPLICATION = "config.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "orders.context.shop",
            ]
        },
    }
]

# FULL, because under NORMAL a power cut may drop a payment that was already acknowledged.
IN_A_FILE = {
    "ENGINE": "django.db.backends.sqlite3",
    "NAME": DATA_DIR / "shop.sqlite3",
    "CONN_MAX_AGE": 60,  # opening the file costs more than most pages ask of it
    "OPTIONS": {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON",
    },
}
DATABASES = {"default": on_a_server(environment.postgres("DATABASE_URL")) or IN_A_FILE}
REDIS_URL = environment.redis("REDIS_URL")  # without one a thread of the web process runs the errands
CARRIER = "config.celery.bring_word"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "orders.Person"
LOGIN_URL = "sign-in"
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ["name"]},
    },
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]

BEHIND_HTTPS = ADDRESS.startswith("https://")
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", *filter(None, [urlsplit(ADDRESS).hostname])]
CSRF_TRUSTED_ORIGINS = [ADDRESS] if ADDRESS else []
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = BEHIND_HTTPS
SESSION_COOKIE_NAME = "__Host-session" if BEHIND_HTTPS else "session"
CSRF_COOKIE_NAME = "__Host-csrf" if BEHIND_HTTPS else "csrf"
SESSION_ENGINE = "orders.sign_ins"
SESSION_COOKIE_AGE = 400 * 24 * 3600  # seconds; the row of each sign-in ends it much sooner
CSRF_COOKIE_HTTPONLY = True
CSRF_FAILURE_VIEW = "orders.views.faults.form_from_elsewhere"
SECURE_HSTS_SECONDS = 365 * 24 * 3600 if BEHIND_HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_SSL_REDIRECT = BEHIND_HTTPS
SECURE_REDIRECT_EXEMPT = [r"^healthz$"]  # asked on the machine itself, without https
# W021 asks for the browsers' built-in list, where a whole domain is put and hardly comes off again: its
# owner decides that, not this program.
SILENCED_SYSTEM_CHECKS = ["security.W021"]
X_FRAME_OPTIONS = "DENY"
# In the session, because a cookie would carry what was said about a customer.
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

LANGUAGE_CODE = "en-us"
TIME_ZONE = "UTC"
USE_TZ = True

STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATIC_ROOT = DATA_DIR / "static"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "config.static_names.KeptNames"
    },
}

# On the disk of the photos, so that one that fills up is noticed before anything is kept by halves.
FILE_UPLOAD_TEMP_DIR = environment.folder_within(DATA_DIR, "incoming")
LEAST_FREE_BYTES = 200 * 1024 * 1024  # with less room on the disk no photo is taken
ERRANDS_IN = ["orders.background.photos", "orders.cloth.cloth_looks", "orders.keep.backup", "orders.papers"]
ERRANDS_IN += ["orders.quilt.arranging", "orders.quilt.mixing", "orders.account.ways_to_take"]
ERRANDS_IN += ["orders.days.supposing", "orders.days.chances", "orders.customer.enquiry_ways"]
ERRANDS_IN += ["orders.customer.mailing", "orders.customer.standing"]
ERRANDS_IN += ["orders.keep.taken", "orders.customer.forgetting", "orders.door", "orders.cloth.takes"]
ERRANDS_IN += ["orders.demo.pictures", "orders.demo.keeping"]

# Mail is off until a server is named: the shop then writes words to copy, and sends none itself.
EMAIL_HOST = environment.text("EMAIL_HOST")
EMAIL_PORT = environment.port("EMAIL_PORT", 587)
EMAIL_HOST_USER = environment.text("EMAIL_HOST_USER")
EMAIL_HOST_PASSWORD = environment.text("EMAIL_HOST_PASSWORD")
EMAIL_USE_SSL = environment.flag("EMAIL_USE_SSL")
EMAIL_USE_TLS = environment.flag("EMAIL_USE_TLS")
EMAIL_TIMEOUT = 20  # seconds
DEFAULT_FROM_EMAIL = environment.text("EMAIL_FROM")

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"with_number": {"()": "config.faults.WithNumber"}},
    "formatters": {"line": {"format": "{asctime} {levelname} {number} {name}: {message}", "style": "{"}},
    "handlers": {
        "console": {"class": "logging.StreamHandler", "filters": ["with_number"], "formatter": "line"}
    },
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        "django.request": {"level": "ERROR"},  # what people see has its line from site.faults
        "django.security.DisallowedHost": {"level": "CRITICAL"},
        "site.faults": {"level": "INFO"},
    },
}
