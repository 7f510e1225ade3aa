"""``sleeve-tutor lessons new``: the beginning of a lesson of one's own."""

from __future__ import annotations

import itertools
from pathlib import Path

from tutor.faults import Fault

TEMPLATE = "new-lesson.toml"
ENDING = ".toml"
LONGEST = 40
"""Letters of a title that is made from a name."""


def new_lesson(wanted: Path) -> Path:
    """Writes a lesson to begin from and returns its path; nothing is ever written over.

    A bare name is put into the folder of a person's own lessons; what ends in .toml is a path. Raises Fault when the
    file is there already, or can't be written.
    """
    from tutor.file_reading import file_fault
    from tutor.resources import assets_folder
    from tutor.whole_file import make_whole

    path = _place(wanted)
    text = _begun((assets_folder() / TEMPLATE).read_text(encoding="utf-8"), path.stem).encode()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        make_whole(path, text)
    except FileExistsError:
        raise Fault(str(path), "is there already", "choose another name; nothing is written over") from None
    except (OSError, ValueError) as error:
        raise file_fault(str(path), error) from None
    return path


def _begun(text: str, name: str) -> str:
    """The beginning, with a title from the name, and the first number from its own on that no lesson has."""
    from tutor.lesson.listing import whole_listing
    from tutor.toml_writing import quoted

    title, number = 'title = "A lesson of my own"', "number = 101"
    taken = {lesson.number for lesson in whole_listing()[0]}
    free = next(number for number in itertools.count(101) if number not in taken)
    words = " ".join(name.replace("-", " ").replace("_", " ").split())
    said = words[:1].upper() + words[1:]
    if 0 < len(said) <= LONGEST and said.isprintable():
        text = text.replace(title, f"title = {quoted(said)}", 1)
    return text.replace(number, f"number = {free}", 1)


def _place(wanted: Path) -> Path:
    """Where the lesson goes. Raises Fault for a name that comes with the program, or where there is no folder."""
    from tutor.lesson.listing import own_listing
    from tutor.settings import lessons_of_ones_own

    if not wanted.stem or wanted.name.startswith("."):
        raise Fault("new", f'"{wanted}" is no name of a lesson', "write a name, as in lessons new my-lesson")
    if wanted.suffix.casefold() == ENDING:
        return wanted
    if wanted.parent != Path() or wanted.is_absolute():
        raise Fault("new", f'"{wanted}" is no name of a lesson', "write a name, or a path that ends in .toml")
    path = wanted.with_name(wanted.name + ENDING)
    if any(lesson.name == path.stem for lesson in own_listing()):
        raise Fault("new", f'"{path.stem}" comes with the program', "choose another name")
    folder = lessons_of_ones_own()
    if folder is None:
        raise Fault("new", "there is no home to keep your lessons in", "give a path, as in lessons new my-lesson.toml")
    return folder / path.name
