"""A slip put into a file: whole or not at all, and never over another file without being told."""

from __future__ import annotations

import os
from pathlib import Path


class CannotWrite(Exception):
    """A file that is not written; the text says why."""


class AlreadyThere(CannotWrite):
    """A file of that name exists, and it was not said that it is to be replaced."""


def write(path: Path, text: str, *, replace: bool = False) -> None:
    """Writes a file under a temporary name, settles it on the disk, and only then gives it its name.

    Raises CannotWrite, and leaves what was there as it was, where a file of that name exists and `replace` is
    not said, where the place is no plain file, and where writing fails.
    """
    try:
        path = Path(os.path.realpath(path))
        mode = path.stat().st_mode & 0o777 if path.exists() else None
        if mode is not None and not path.is_file():
            raise CannotWrite(f"{path} is not a plain file")
        if mode is not None and not replace:
            raise AlreadyThere(_THERE.format(path))
        copy = path.with_name(f".{path.name}.{os.getpid()}.part")
        try:
            with copy.open("x", encoding="utf-8", newline="") as stream:
                stream.write(text)
                stream.flush()
                os.fsync(stream.fileno())
            if mode is not None:
                copy.chmod(mode)
            if replace:
                copy.replace(path)
            else:
                os.link(copy, path)  # unlike a rename, this never puts itself in the place of another file
        finally:
            copy.unlink(missing_ok=True)
        _settle(path.parent)
    except FileExistsError as error:
        raise AlreadyThere(_THERE.format(path)) from error
    except (OSError, ValueError) as error:
        raise CannotWrite(f"{path} cannot be written: {getattr(error, 'strerror', None) or error}") from error


_THERE = "there is a file {} already"


def _settle(folder: Path) -> None:
    """The new name itself is put on the disk, where the system can do that."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        return
    finally:
        os.close(handle)
