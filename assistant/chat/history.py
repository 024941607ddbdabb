"""The lines typed in earlier chats: one file in the user's state directory, for the owner's eyes only."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

_PRIVATE_FILE = 0o600
_PRIVATE_FOLDER = 0o700
#: Set to anything, it keeps no history.
OPT_OUT = "CASTINGS_NO_HISTORY"


def state_folder(environment: Mapping[str, str], home: Path, platform: str = sys.platform) -> Path:
    """Where a user's state is kept: what the environment says, else the custom of the platform."""
    named = environment.get("XDG_STATE_HOME", "")
    if named and Path(named).is_absolute():  # a relative one is to be ignored
        return Path(named) / "castings"
    if platform == "win32" and environment.get("LOCALAPPDATA"):
        return Path(environment["LOCALAPPDATA"]) / "castings"
    return home / ".local" / "state" / "castings"


def history_file(environment: Mapping[str, str], home: Path) -> Path | None:
    """The file of the history, made with a private mode where there is none; None where it is unwanted or cannot be."""
    if environment.get(OPT_OUT):
        return None
    folder = state_folder(environment, home)
    path = folder / "lines-typed"
    try:
        folder.mkdir(mode=_PRIVATE_FOLDER, parents=True, exist_ok=True)
        handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), _PRIVATE_FILE)
        try:
            if hasattr(os, "fchmod"):
                os.fchmod(handle, _PRIVATE_FILE)
        finally:
            os.close(handle)
    except OSError:
        return None
    return path
