"""Tables that are made from the sources once and loaded from then on: what keeps the start short.

The vocabulary, the parser and the sizes of the units are all worked out from text files. What comes out
is plain data, and is kept in two places: inside an installed package, where the build put it, and in the
user's own cache. A table is known by a key over everything it is made from (the text files, the code that
reads them, the versions of Python and of the libraries), so that a changed source never meets an old table.

The cache is read only where nobody else could have written it: folder and file must belong to the user and
be writable by no one else. What is read is plain data (`marshal`, no objects and no code) under a digest.
A table that is missing, old or broken is made again; a cache that cannot be written is passed over.
"""

from __future__ import annotations

import marshal
import os
import stat
import sys
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any, NamedTuple

#: Plain data: numbers, texts, None, and tuples, lists, dicts and frozen sets of them.
Plain = Any

_HERE = os.path.dirname(os.path.abspath(__file__))
#: Where the build puts the tables of an installed package.
SHIPPED = os.path.join(_HERE, "made")
_MARK = b"castings table 1\n"
#: No table is near this size (bytes); a longer file is none of ours.
_LARGEST = 16_000_000


def package_file(*names: str) -> Path:
    """A file or folder of this package."""
    return Path(_HERE, *names)


class Table(NamedTuple):
    """A table: its name, the files of this package and the libraries it is made from, and what makes it."""

    name: str
    sources: tuple[str, ...]
    libraries: tuple[str, ...]
    make: Callable[[], Plain]

    def load(self) -> Plain:
        """The table: as it was shipped, or from the user's cache, or made now and then kept there."""
        key = self.key()
        if key is None:
            return self.make()
        found = _unpack(_read(SHIPPED, self.file), key)
        if found is None:
            found = _unpack(_read_own(self.file), key)
        if found is None:
            found = (self.make(),)
            _write_own(self.file, _pack(key, found))
        return found[0]

    def ship(self, folder: str) -> None:
        """Makes the table and writes it into a folder, for a package that is being built."""
        key = self.key()
        if key is not None:
            os.makedirs(folder, exist_ok=True)
            with open(os.path.join(folder, self.file), "wb") as out:
                out.write(_pack(key, (self.make(),)))

    @property
    def file(self) -> str:
        return f"{self.name}.table"

    def key(self) -> bytes | None:
        """The digest of everything the table is made from; None where a source cannot be read as a file."""
        digest = sha256()
        try:
            for one in (f"{sys.implementation.name} {sys.version_info[:2]}", *map(_version, self.libraries)):
                digest.update(one.encode() + b"\0")
            for name in _files(self.sources):
                with open(os.path.join(_HERE, name), "rb") as file:
                    text = file.read()
                digest.update(f"{name} {len(text)}\0".encode() + text)
        except (OSError, LookupError):
            return None
        return digest.hexdigest().encode()


def _files(sources: tuple[str, ...]) -> list[str]:
    """The files that sources name: a name that ends in a slash stands for every TOML file of that folder."""
    files: list[str] = []
    for name in sources:
        if name.endswith("/"):
            files += sorted(name + one for one in os.listdir(os.path.join(_HERE, name)) if one.endswith(".toml"))
        else:
            files.append(name)
    return files


def _version(library: str) -> str:
    said = getattr(sys.modules.get(library), "__version__", None)
    if said is None:
        # not imported yet, and it need not be for a table that is there: the installation knows as well
        from importlib.metadata import version

        said = version(library)
    return f"{library} {said}"


def _pack(key: bytes, found: tuple[Plain]) -> bytes:
    body = marshal.dumps(found)
    return b"".join((_MARK, key, b"\n", sha256(body).hexdigest().encode(), b"\n", body))


def _unpack(text: bytes | None, key: bytes) -> tuple[Plain] | None:
    """The table in a file of tables, or None where it is not the one looked for or is not whole."""
    if text is None or not text.startswith(_MARK + key + b"\n"):
        return None
    digest, _, body = text[len(_MARK) + len(key) + 1 :].partition(b"\n")
    if sha256(body).hexdigest().encode() != digest:
        return None
    try:
        found = marshal.loads(body)
    except (EOFError, ValueError, TypeError):
        return None
    return found if type(found) is tuple and len(found) == 1 else None


def _read(folder: str, name: str) -> bytes | None:
    try:
        with open(os.path.join(folder, name), "rb") as file:
            return file.read(_LARGEST)
    except OSError:
        return None


# ---- the user's own cache ---------------------------------------------------------------------------------


def own_folder() -> str | None:
    """The folder of the user's cache that is ours, whether it is there or not; None where there is none to use.

    Where a system does not say whose a file is, nothing is trusted and so nothing is kept.
    """
    if not hasattr(os, "geteuid"):
        return None
    home = os.environ.get("XDG_CACHE_HOME", "")
    if not os.path.isabs(home):
        home = os.path.join(os.path.expanduser("~"), ".cache")
    return os.path.join(home, "castings") if os.path.isabs(home) else None


def _is_own(status: os.stat_result) -> bool:
    """Whether a file or folder is the user's, and can be written by no one else."""
    return status.st_uid == os.geteuid() and not status.st_mode & (stat.S_IWGRP | stat.S_IWOTH)


def _open_own(*, make: bool) -> int | None:
    """The cache folder, opened, where it and the folder it stands in are the user's alone."""
    folder = own_folder()
    if folder is None:
        return None
    above = os.path.dirname(folder)
    try:
        if make:
            os.makedirs(above, mode=0o700, exist_ok=True)
        if not _is_own(os.stat(above)):
            return None
        if make and not os.path.lexists(folder):
            os.mkdir(folder, mode=0o700)
        opened = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    except OSError:
        return None
    if not _is_own(os.fstat(opened)):
        os.close(opened)
        return None
    return opened


def _read_own(name: str) -> bytes | None:
    folder = _open_own(make=False)
    if folder is None:
        return None
    try:
        file = os.open(name, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK, dir_fd=folder)
        with open(file, "rb") as stream:
            status = os.fstat(file)
            if not stat.S_ISREG(status.st_mode) or not _is_own(status):
                return None
            return stream.read(_LARGEST)
    except OSError:
        return None
    finally:
        os.close(folder)


def _write_own(name: str, text: bytes) -> None:
    """Writes a file whole: under a name of its own first, so that a reader never meets half of it."""
    folder = _open_own(make=True)
    if folder is None:
        return
    part = f".{name}.{os.getpid()}"
    try:
        file = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW, 0o600, dir_fd=folder)
        with open(file, "wb") as stream:
            stream.write(text)
        os.rename(part, name, src_dir_fd=folder, dst_dir_fd=folder)
    except OSError:
        _forget(part, folder)
    finally:
        os.close(folder)


def _forget(name: str, folder: int) -> None:
    try:
        os.unlink(name, dir_fd=folder)
    except OSError:
        return
