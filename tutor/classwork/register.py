"""The register of a homework: who is in the class, what their files are called, and which variant each was dealt."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from tutor.classwork.deal import Deal, deal, deal_from, deal_number
from tutor.classwork.homework import Homework
from tutor.classwork.learner import Learner, another_file, file_key, file_names, is_file_name, key_of
from tutor.faults import Fault
from tutor.units import Unit

NAME = "register.json"
FORMAT = 1


@dataclass(frozen=True, slots=True)
class Register:
    """The learners of a homework in the order of the class list, and what they were dealt, by its code.

    ``open`` is a register without a class list: whoever hands something in is one of the class. ``tasks`` are the
    places of the questions, in their order, as answers go by their numbers; none where nobody has noted them.
    """

    homework: str
    learners: tuple[Learner, ...] = ()
    deals: Mapping[str, Deal] = field(default_factory=dict)
    open: bool = False
    tasks: tuple[str, ...] = ()

    def deal_of(self, learner: Learner) -> Deal:
        return self.deals[learner.deal]

    def by_key(self) -> dict[str, Learner]:
        """The learners by the keys of their names."""
        return {key_of(learner.name): learner for learner in self.learners}

    def text(self) -> str:
        """The register as the text of its file."""
        table = {
            "format": FORMAT,
            "homework": self.homework,
            "open": self.open,
            "tasks": list(self.tasks),
            "learners": [
                {"name": each.name, "units": each.unit.value, "file": each.file, "deal": each.deal}
                for each in self.learners
            ],
            "deals": {code: each.stored() for code, each in self.deals.items()},
        }
        return json.dumps(table, ensure_ascii=False, indent=1) + "\n"


def register_from(text: str, where: str) -> Register:
    """The register in the text of its file. Raises Fault when it is none, or a variant in it was changed."""
    try:
        return _register(json.loads(text))
    except (KeyError, TypeError, ValueError, AttributeError, OverflowError, RecursionError):
        raise Fault(
            where, "is no register that can be read", "deal out the homework again, into a new folder"
        ) from None


def _register(table: Any) -> Register:
    if table["format"] != FORMAT:
        raise ValueError(table["format"])
    deals = {str(code): deal_from(each) for code, each in table["deals"].items()}
    learners = tuple(
        Learner(str(each["name"]), Unit(each["units"]), str(each["file"]), str(each["deal"]))
        for each in table["learners"]
    )
    files = {file_key(learner.file) for learner in learners}
    usual = all(is_file_name(learner.file) for learner in learners)
    if any(code != each.code for code, each in deals.items()) or len(files) < len(learners) or not usual:
        raise ValueError("changed")
    if any(learner.deal not in deals for learner in learners):
        raise ValueError("a deal is missing")
    tasks = tuple(map(str, table.get("tasks", ())))
    return Register(str(table["homework"]), learners, deals, bool(table["open"]), tasks)


def dealt(
    homework: Homework,
    learners: Iterable[Learner],
    known: Register | None = None,
    drew: Callable[[Learner], None] = lambda learner: None,
) -> Register:
    """The register with these learners, those in ``known`` as they are there and new ones after them.

    ``drew`` is told after each learner that was dealt a variant. Raises Fault when a variant can't be drawn, or as
    ``check_known`` does.
    """
    known = known or Register(homework.title)
    check_known(homework, known)
    there = known.by_key()
    deals = dict(known.deals)
    codes = {each.number: code for code, each in deals.items()}
    all_of_them = list(known.learners)
    for learner in learners:
        if key_of(learner.name) in there:
            continue
        number = deal_number(homework, len(all_of_them))
        if number not in codes:
            made = deal(homework, number)
            codes[number] = made.code
            deals[made.code] = made
        all_of_them.append(replace(learner, deal=codes[number]))
        drew(learner)
    tasks = tuple(question.place for question in homework.questions)
    return Register(homework.title, _with_files(all_of_them, len(known.learners)), deals, known.open, tasks)


def _with_files(learners: list[Learner], known: int) -> tuple[Learner, ...]:
    """The learners, each with a name of its own for files; those known before keep theirs."""
    taken = {file_key(learner.file) for learner in learners[:known]}
    named = learners[:known]
    for learner in learners[known:]:
        stem = learner.file or file_names([learner.name])[0]
        named.append(replace(learner, file=another_file(stem, taken)))
    return tuple(named)


def check_known(homework: Homework, known: Register) -> None:
    """Raises Fault for a register of another homework, without one of its lessons, or with its tasks otherwise."""
    if known.homework != homework.title:
        what = f'is of the homework "{known.homework}"'
        raise Fault(NAME, what, "give each homework a folder of its own")
    for each in known.deals.values():
        missing = [name for name in homework.lessons if name not in each.lessons]
        if missing:
            what = f"was dealt before {missing[0]} was part of the homework"
            raise Fault(NAME, what, "deal out the homework again, into a new folder")
    for number, place in enumerate(known.tasks, 1):
        question = homework.question(number)
        if question is None or question.place != place:
            now = "and now there is none" if question is None else f"and now that is {question.place}"
            what = f"has {place} as task {number}, {now}"
            raise Fault(NAME, what, "put the tasks back as they were numbered, and new ones after them")
