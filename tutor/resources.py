"""Where the files that come with the program lie, installed or in a checkout."""

from pathlib import Path

from tutor.faults import Fault

PACKAGE = Path(__file__).resolve().parent


def lessons_folder() -> Path:
    """The folder of the lessons that come with the program.

    Raises Fault when the installation has lost it.
    """
    return _folder("lessons")


def assets_folder() -> Path:
    """The folder of everything else that comes with the program: example patterns, the licence.

    Raises Fault when the installation has lost it.
    """
    return _folder("assets")


def _folder(name: str) -> Path:
    """The packaged folder, which is always the right one where there is one, or the one beside a checkout."""
    for folder in (PACKAGE / f"_{name}", PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise Fault(name, "the folder is missing from this installation", "install sleeve-tutor again")
