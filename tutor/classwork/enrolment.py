"""Who is in the class when answers are marked: by the register, by a class list, or whoever hands something in."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from tutor.classwork.class_list import read_class
from tutor.classwork.csv_table import LARGEST
from tutor.classwork.given import Submission
from tutor.classwork.handed_in import HandedIn
from tutor.classwork.homework import Homework
from tutor.classwork.learner import Learner, key_of
from tutor.classwork.owners import Owners
from tutor.classwork.register import NAME as REGISTER
from tutor.classwork.register import Register, check_known, dealt
from tutor.classwork.store import Store
from tutor.classwork.trouble import Trouble
from tutor.faults import Fault
from tutor.file_reading import file_fault, read_bytes
from tutor.units import Unit


def class_of(path: Path, unit: Unit) -> tuple[Learner, ...]:
    """The learners of the class list in a file. Raises Fault."""
    return read_class(read_bytes(path, LARGEST), path.name, unit)


def enrolled(homework: Homework, store: Store, class_list: Path | None, answers: Iterable[Path]) -> Register:
    """The register of a homework, made now where there is none, with whoever a class list or an open class adds.

    Raises Fault where nobody can tell who was dealt which variant, before anything is made.
    """
    answers = list(answers)
    learners = () if class_list is None else class_of(class_list, homework.unit)
    known = known_register(homework, store)
    if known is None and class_list is None and homework.text.variants != "same":
        what = "holds no register, so nobody can tell who was dealt which variant"
        raise Fault(str(store.folder), what, "give the folder that sheet made, or the class list with --class")
    if answers and not any(os.path.lexists(path) for path in answers):
        raise file_fault(str(answers[0]), FileNotFoundError())
    with store.locked():
        known = known_register(homework, store) or Register(homework.title, open=class_list is None)
        if known.open:
            learners = (*learners, *_those_of(answers, homework.unit))
        register = dealt(homework, learners, known)
        store.write_register(register)
        return register


def known_register(homework: Homework, store: Store) -> Register | None:
    """The register that a homework's folder holds; None where there is none.

    Raises Fault when it is of another homework, or of one whose tasks had other numbers. Registers that say nothing of
    the tasks are held against the marks that are kept, each of which knows what it was marked by.
    """
    register = store.register()
    if register is None:
        return None
    check_known(homework, register)
    if not register.tasks:
        _check_marks(homework, register, store)
    return register


def _check_marks(homework: Homework, register: Register, store: Store) -> None:
    numbers = {homework.fingerprint(question): question.number for question in homework.questions}
    for learner in register.learners:
        for number, (_, result) in store.results(learner).items():
            now = numbers.get(result.by, number)
            if now != number:
                what = f"{learner.name}'s answer to task {number} is kept, and that task is now number {now}"
                raise Fault(REGISTER, what, "put the tasks back as they were numbered, and new ones after them")


def _those_of(answers: Iterable[Path], unit: Unit) -> tuple[Learner, ...]:
    """Whoever hands something in, by name."""
    found: dict[str, Learner] = {}
    for item in HandedIn(answers, lambda name: unit, Owners()).read():
        if isinstance(item, Submission):
            found.setdefault(key_of(item.learner), Learner(item.learner, item.unit or unit))
    return tuple(found.values())


def handed_in(paths: Iterable[Path], register: Register) -> Iterator[Submission | Trouble]:
    """What some paths hold, read for the learners of a register."""
    units = {key_of(learner.name): learner.unit for learner in register.learners}
    return HandedIn(paths, lambda name: units.get(key_of(name), Unit.CM), Owners(register.learners)).read()
