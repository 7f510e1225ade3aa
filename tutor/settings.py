"""Where a person's own things lie, and what is remembered between two runs besides what has been learnt: the unit.

A file that can't be read, or written, is as good as none: nobody is kept from sewing by it.
"""

from __future__ import annotations

import contextlib
import os
import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from platformdirs import user_config_path, user_data_path

from tutor.units import Unit

USUAL = Unit.CM
DATA_VARIABLE = "SLEEVE_TUTOR_DATA"
"""Names the folder for everything that is kept, for people who share a computer, scripts and tests."""
LARGEST = 10_000
_UNITS = re.compile(r"^[ \t]*units[ \t]*=.*\n?", re.MULTILINE)


def settings_file() -> Path | None:
    """Where the settings lie on this system, whether they are there or not: in the folder named for all, if one is.

    None where there is no home to have them in.
    """
    folder = _named_folder() or _folder_at_home(user_config_path)
    return None if folder is None else folder / "settings.toml"


def data_folder() -> Path | None:
    """Where what has been done is kept, whether it is there or not; None where there is no home to have it in."""
    return _named_folder() or _folder_at_home(user_data_path)


def _named_folder() -> Path | None:
    named = os.environ.get(DATA_VARIABLE)
    return Path(named).absolute() if named else None


def _folder_at_home(of: Callable[..., Path]) -> Path | None:
    try:
        folder = of("sleeve-tutor", appauthor=False)
    except RuntimeError:
        # No variable says where home is, and the system knows of none for this user.
        return None
    return folder if folder.is_absolute() else None


def lessons_of_ones_own() -> Path | None:
    """The folder of a person's own lessons, whether it is there or not; None where there can be none."""
    folder = data_folder()
    return None if folder is None else folder / "lessons"


def remembered_unit() -> Unit:
    """The unit last asked for; centimetres before any was."""
    try:
        return Unit(tomllib.loads(_settings()).get("units"))
    except (OSError, ValueError, RecursionError):
        return USUAL


def remember_unit(unit: Unit) -> None:
    """Keeps the unit for next time, if there is anywhere to keep it; whatever else the file says stays in it."""
    path = settings_file()
    if path is None:
        return
    from tutor.whole_file import write_whole

    with contextlib.suppress(OSError):
        if unit is remembered_unit() and path.is_file():
            return
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, _with_unit(unit).encode())


def _settings() -> str:
    """The text of the settings; empty where there is no home. Raises OSError and ValueError."""
    path = settings_file()
    if path is None:
        return ""
    with path.open("rb") as file:
        return file.read(LARGEST).decode("utf-8")


def _with_unit(unit: Unit) -> str:
    """The settings with this unit. What makes no sense is left out, but keys of another version of the program do."""
    line = f'units = "{unit.value}"\n'
    try:
        text = _settings()
        changed = line + _UNITS.sub("", text, count=1)
        kept: dict[str, Any] = tomllib.loads(text) | {"units": unit.value}
        return changed if tomllib.loads(changed) == kept else line
    except (OSError, ValueError, RecursionError):
        return line
