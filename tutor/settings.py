"""Where a person's own things lie, and what is remembered between two runs besides what has been learnt: the unit.

A file that can't be read, or written, is as good as none: nobody is kept from sewing by it.
"""

from __future__ import annotations

import contextlib
import os
import tomllib
from pathlib import Path

from platformdirs import user_config_path, user_data_path

from tutor.units import Unit

USUAL = Unit.CM
DATA_VARIABLE = "SLEEVE_TUTOR_DATA"
"""Names the folder for everything that is kept, for people who share a computer, scripts and tests."""
LARGEST = 10_000


def settings_file() -> Path:
    """Where the settings lie on this system, whether they are there or not: in the folder named for all, if one is."""
    named = os.environ.get(DATA_VARIABLE)
    if named:
        return Path(named).absolute() / "settings.toml"
    return user_config_path("sleeve-tutor", appauthor=False) / "settings.toml"


def data_folder() -> Path | None:
    """Where what has been done is kept, whether it is there or not; None where there is no home to have it in."""
    named = os.environ.get(DATA_VARIABLE)
    if named:
        return Path(named).absolute()
    folder = user_data_path("sleeve-tutor", appauthor=False)
    return folder if folder.is_absolute() else None


def lessons_of_ones_own() -> Path | None:
    """The folder of a person's own lessons, whether it is there or not; None where there can be none."""
    folder = data_folder()
    return None if folder is None else folder / "lessons"


def remembered_unit() -> Unit:
    """The unit last asked for; centimetres before any was."""
    try:
        with settings_file().open("rb") as file:
            text = file.read(LARGEST).decode("utf-8")
        return Unit(tomllib.loads(text).get("units"))
    except (OSError, ValueError, RecursionError):
        return USUAL


def remember_unit(unit: Unit) -> None:
    """Keeps the unit for next time, if there is anywhere to keep it."""
    if unit is remembered_unit() and settings_file().is_file():
        return
    from tutor.whole_file import replace_whole

    with contextlib.suppress(OSError):
        path = settings_file()
        path.parent.mkdir(parents=True, exist_ok=True)
        replace_whole(path, f'units = "{unit.value}"\n')
