"""One darkroom process for each picture, as in the shop, but forked from one that has its libraries open.

Run as `python -m tests.orders.darkroom_door`: a line with a picture and a target comes in, and what the
process said, how it ended, and what it took of the processor and of memory go out.
"""

from __future__ import annotations

import json
import os
import sys
import time
from pathlib import Path

from PIL import Image

from orders.background import darkroom


def main() -> None:
    Image.init()  # every reader is open before the first picture comes
    left = b""
    while True:
        line, found, rest = left.partition(b"\n")
        if found:
            left = rest
            os.write(1, json.dumps(develop_apart(*json.loads(line))).encode() + b"\n")
            continue
        more = os.read(0, 65536)
        if not more:
            return
        left += more


def develop_apart(picture: str, sizes: str, target: str) -> dict[str, object]:
    """Develop a picture in a process of its own, under the darkroom's own limits."""
    heard, said = os.pipe()
    began = time.monotonic()
    child = os.fork()
    if child == 0:
        os.dup2(os.open(picture, os.O_RDONLY), 0)
        os.dup2(said, 1)
        code = 1
        try:
            code = darkroom.main(Path(target), darkroom.read_sizes(sizes))
            sys.stdout.flush()
        finally:
            os._exit(code)
    os.close(said)
    words = b""
    while part := os.read(heard, 65536):
        words += part
    os.close(heard)
    _, status, used = os.wait4(child, 0)
    return {
        "code": os.waitstatus_to_exitcode(status),
        "said": words.decode(),
        "processor": used.ru_utime + used.ru_stime,
        "seconds": time.monotonic() - began,
        "megabytes": used.ru_maxrss // 1024,
    }


if __name__ == "__main__":
    main()
