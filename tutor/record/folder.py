"""Where what has been done is kept."""

from __future__ import annotations

import os
from pathlib import Path

from platformdirs import user_data_path

from tutor.settings import DATA_VARIABLE


def data_folder() -> Path | None:
    """The folder, whether it is there or not; None where there is no home to have one in."""
    named = os.environ.get(DATA_VARIABLE)
    if named:
        return Path(named).absolute()
    folder = user_data_path("sleeve-tutor", appauthor=False)
    return folder if folder.is_absolute() else None
