"""One file that holds a shop: a zip with a list of hashes inside and a seal over all of it at its end."""

from __future__ import annotations

import hashlib
import json
import os
import re
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

MANIFEST = "manifest.json"
DATABASE = "shop.sqlite3"
FOLDERS = ("photos", "papers")  # their files are written whole or not at all, so they can be read at any time
FORMAT = 1
SEAL = 64  # bytes: the SHA-256 of all before it, in hexadecimal
CHUNK = 1024 * 1024
SAFE_NAME = re.compile(
    rf"{re.escape(DATABASE)}|photos/[0-9a-f]{{2}}/[0-9A-Za-z][0-9A-Za-z._-]*|papers/[0-9]+\.pdf"
)


class Damaged(Exception):
    """A file that is no sound backup; the text names it and what is wrong with it."""


@dataclass(frozen=True)
class Archive:
    """A backup whose every byte was checked. `beside` are files kept next to it rather than inside."""

    path: Path
    manifest: dict[str, Any]

    @property
    def inside(self) -> Mapping[str, str]:
        """Return the hash of each file inside, by its name."""
        return self.manifest["files"]

    @property
    def beside(self) -> Mapping[str, str]:
        """Return the hash of each file that lies in the folder of the backup, by its name."""
        return self.manifest["beside"]

    def unpack(self, folder: Path) -> None:
        """Write every file below a folder, inside and beside alike."""
        with zipfile.ZipFile(self.path) as zipped:
            for name in self.inside:
                (folder / name).parent.mkdir(mode=0o700, parents=True, exist_ok=True)
                zipped.extract(name, folder)
        for name in self.beside:
            (folder / name).parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            (folder / name).write_bytes((self.path.parent / name).read_bytes())


def write_archive(
    target: Path, *, inside: Mapping[str, Path], beside: Mapping[str, Path], facts: Mapping[str, Any]
) -> Archive:
    """Write a sealed archive; under its own name it appears only when it is whole and on the disk."""
    draft = target.with_name(f".{target.name}.{os.getpid()}.part")
    manifest = {
        "format": FORMAT,
        **facts,
        "files": {name: hash_of(file) for name, file in inside.items()},
        "beside": {name: hash_of(file) for name, file in beside.items()},
    }
    try:
        with zipfile.ZipFile(draft, "w", strict_timestamps=False) as zipped:
            for name, file in inside.items():
                zipped.write(file, name, zipfile.ZIP_DEFLATED if name == DATABASE else zipfile.ZIP_STORED)
            zipped.writestr(MANIFEST, json.dumps(manifest, indent=1), zipfile.ZIP_DEFLATED)
            zipped.comment = b"0" * SEAL
        seal(draft)
        os.replace(draft, target)
    finally:
        draft.unlink(missing_ok=True)
    return Archive(target, manifest)


def seal(path: Path) -> None:
    """Write the hash of all that stands before it over the last bytes, down to the disk."""
    with open(path, "r+b") as file:
        mark = sealed_hash(file)
        file.seek(-SEAL, os.SEEK_END)
        file.write(mark.encode())
        file.flush()
        os.fsync(file.fileno())


def sealed_hash(file: BinaryIO) -> str:
    """Return the hash of a file but for its last bytes, where the seal is."""
    left = file.seek(0, os.SEEK_END) - SEAL
    file.seek(0)
    digest = hashlib.sha256()
    while left > 0 and (chunk := file.read(min(CHUNK, left))):
        digest.update(chunk)
        left -= len(chunk)
    return digest.hexdigest()


def hash_of(path: Path) -> str:
    with open(path, "rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def read_archive(path: Path) -> Archive:
    """Open a backup after checking its seal and every hash; anything amiss is Damaged and names it."""
    try:
        with open(path, "rb") as file:
            sound = path.stat().st_size > SEAL and sealed_hash(file).encode() == file.read(SEAL)
    except OSError as fault:
        raise Damaged(f"{path} cannot be read: {fault.strerror}.") from fault
    if not sound:
        amiss = next(iter(damaged_parts(path)), "")
        raise Damaged(f"{path} was cut short or changed since it was written{amiss and f': {amiss}'}.")
    archive = Archive(path, read_manifest(path))
    for amiss in damaged_parts(path):
        raise Damaged(f"{path} is not sound: {amiss}.")
    return archive


def read_manifest(path: Path) -> dict[str, Any]:
    """Return the list inside; one from a later program, or with names that lead elsewhere, is refused."""
    with zipfile.ZipFile(path) as zipped:
        manifest = json.loads(zipped.read(MANIFEST))
    if manifest["format"] != FORMAT:
        raise Damaged(f"{path} was made by a newer version of the program. Update this one first.")
    strange = [name for name in (*manifest["files"], *manifest["beside"]) if not SAFE_NAME.fullmatch(name)]
    if strange:
        raise Damaged(f"{path} holds {strange[0]!r}, which belongs to no shop.")
    return manifest


def damaged_parts(path: Path) -> Iterator[str]:
    """Say what is wrong with each part that is not as the list inside says."""
    try:
        manifest = read_manifest(path)
        with zipfile.ZipFile(path) as zipped:
            yield from damaged_inside(zipped, manifest["files"])
    except (zipfile.BadZipFile, NotImplementedError, KeyError, ValueError, OSError, EOFError) as fault:
        yield f"its list of files cannot be read ({fault})"
        return
    for name, wanted in manifest["beside"].items():
        file = path.parent / name
        if not file.is_file() or hash_of(file) != wanted:
            state = "changed" if file.is_file() else "not there"
            yield f"{name}, kept beside it in {path.parent}, is {state}"


def damaged_inside(zipped: zipfile.ZipFile, wanted: Mapping[str, str]) -> Iterator[str]:
    for name, sha256 in wanted.items():
        try:
            with zipped.open(name) as file:
                found = hashlib.file_digest(file, "sha256").hexdigest()  # type: ignore[arg-type]
        except (zipfile.BadZipFile, KeyError, OSError, EOFError, NotImplementedError, RuntimeError) as fault:
            yield f"{name} cannot be read ({fault})"
            continue
        except Exception as fault:  # zlib has errors of its own
            yield f"{name} cannot be unpacked ({fault})"
            continue
        if found != sha256:
            yield f"{name} was changed"
