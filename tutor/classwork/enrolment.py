"""Who is in the class when answers are marked: by the register, by a class list, or whoever hands something in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from tutor.classwork.class_list import read_class
from tutor.classwork.csv_table import LARGEST
from tutor.classwork.given import Submission
from tutor.classwork.handed_in import HandedIn, Trouble
from tutor.classwork.homework import Homework
from tutor.classwork.learner import Learner, key_of
from tutor.classwork.register import Register, dealt
from tutor.classwork.store import Store
from tutor.faults import Fault
from tutor.toml_reading import read_bytes
from tutor.units import Unit


def class_of(path: Path, unit: Unit) -> tuple[Learner, ...]:
    """The learners of the class list in a file. Raises Fault."""
    return read_class(read_bytes(path, LARGEST), path.name, unit)


def enrolled(homework: Homework, store: Store, class_list: Path | None, answers: Iterable[Path]) -> Register:
    """The register of a homework, made now where there is none, with whoever a class list or an open class adds.

    Raises Fault where nobody can tell who was dealt which variant.
    """
    with store.locked():
        known = store.register()
        if known is None and class_list is None and homework.text.variants != "same":
            what = "holds no register, so nobody can tell who was dealt which variant"
            raise Fault(str(store.folder), what, "give the folder that sheet made, or the class list with --class")
        if known is None:
            known = Register(homework.title, open=class_list is None)
        learners = () if class_list is None else class_of(class_list, homework.unit)
        if known.open:
            learners = (*learners, *_those_of(answers, homework.unit))
        register = dealt(homework, learners, known)
        store.write_register(register)
        return register


def _those_of(answers: Iterable[Path], unit: Unit) -> tuple[Learner, ...]:
    """Whoever hands something in, by name."""
    found: dict[str, Learner] = {}
    for item in HandedIn(answers, lambda name: unit, lambda file: None).read():
        if isinstance(item, Submission):
            found.setdefault(key_of(item.learner), Learner(item.learner, item.unit or unit))
    return tuple(found.values())


def handed_in(paths: Iterable[Path], register: Register) -> Iterator[Submission | Trouble]:
    """What some paths hold, read for the learners of a register."""
    units = {key_of(learner.name): learner.unit for learner in register.learners}
    names = {learner.file: learner.name for learner in register.learners}
    return HandedIn(paths, lambda name: units.get(key_of(name), Unit.CM), names.get).read()
