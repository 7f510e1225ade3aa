"""A session as it is on disk: a short state, in which plans and attempts stand as numbers, each written once.

Writing all of ``Session.dump`` at every key would take longer the more there is to undo.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tutor.alteration.plan import Plan
    from tutor.practice.session import Session
    from tutor.practice.work import Attempt, Work

PART, PARTS = "part", "parts"
"""The one key of a table that stands for a plan or an attempt, by its number; and for a list of them, by runs.

A run is the first and the last of numbers that go up, or down, by one.
"""

_encode = json.JSONEncoder(separators=(",", ":")).encode


@dataclass(slots=True)
class Image:
    """What of a session is on disk, and what has still to be written.

    ``sitting`` is its row, 0 before there is one; ``unwritten`` are parts as (number, text); ``logged`` counts the
    attempts of each task that are in the log.
    """

    logged: list[int]
    standings: list[str] = field(default_factory=list)
    sitting: int = 0
    state: str = ""
    screen: str = ""
    unwritten: list[tuple[int, str]] = field(default_factory=list)
    # By id: to hash a plan takes longer than all else. The part itself is kept so that its id is no other's.
    _parts: dict[int, tuple[object, int]] = field(default_factory=dict)

    def state_of(self, session: Session) -> str:
        """The session's state as text; plans and attempts met for the first time are added to ``unwritten``."""
        state = {
            "lesson": session.lesson.name,
            "version": session.lesson.version,
            "seed": session.seed,
            "variant": session.stored_variant,
            "unit": session.unit.value,
            "task": session.task_number,
            "finished": session.finished,
            "tasks": [self._kept(work) for work in session._work],
        }
        return _encode(state)

    def start_over(self) -> None:
        """Takes nothing to be on disk but the attempts."""
        self.sitting = 0
        self.state = self.screen = ""
        self.standings = []
        self.unwritten = []
        self._parts = {}

    def _kept(self, work: Work) -> dict[str, Any]:
        table: dict[str, Any] = {each.name: getattr(work, each.name) for each in fields(work)}
        history, found = table.pop("history"), table.pop("found")
        attempts = table.pop("attempts")
        return {
            "now": {PART: self._number(history.now)},
            "past": {PARTS: runs(map(self._number, history.past))},
            "undone": {PARTS: runs(map(self._number, history.undone))},
            "attempts": {PARTS: runs(map(self._number, attempts))},
            # Short texts, and few of them: they need no numbers.
            "found": [found.now, found.past, found.undone],
            **table,
        }

    def _number(self, part: Plan | Attempt) -> int:
        known = self._parts.get(id(part))
        if known is not None:
            return known[1]
        table = _table(part)
        if "given" in table and not isinstance(table["given"], str):
            table["given"] = {PART: self._number(table["given"])}
        number = len(self._parts)
        self._parts[id(part)] = (part, number)
        self.unwritten.append((number, _encode(table)))
        return number


def _table(part: Plan | Attempt) -> dict[str, Any]:
    """A plan, or an attempt with what was given, as a table. A list of lessons needs neither, so it comes late."""
    from tutor.practice.stored import stored_plan
    from tutor.practice.work import Attempt

    if isinstance(part, Attempt):
        return {each.name: getattr(part, each.name) for each in fields(part)}
    return stored_plan(part)


def runs(numbers: Iterable[int]) -> list[list[int]]:
    """The numbers as runs, each the first and the last of numbers that go up, or down, by one."""
    found: list[list[int]] = []
    step = 0
    for number in numbers:
        if found and abs(number - found[-1][1]) == 1 and step in (0, number - found[-1][1]):
            step = number - found[-1][1]
            found[-1][1] = number
        else:
            found.append([number, number])
            step = 0
    return found


def numbers_of(found: Iterable[Sequence[int]]) -> Iterator[int]:
    """The numbers that ``runs`` were made of, one at a time: who wrote a run of millions need not have millions."""
    for first, last in found:
        yield from range(first, last + 1) if last >= first else range(first, last - 1, -1)


def text_of(value: Mapping[str, Any] | None) -> str:
    """The table as text, "" for none. Raises TypeError for what is no table of plain values."""
    return "" if value is None else _encode(value)


def given_text(given: Plan | str) -> str:
    """An answer as it is kept in the log: a plan's table, or the text of a number."""
    return _encode(given if isinstance(given, str) else _table(given))


def read_state(state: str, parts: Sequence[tuple[int, str]]) -> dict[str, Any]:
    """What ``Session.dump`` would give, from a state and its parts. Raises ValueError for what is none."""
    texts = dict(parts)
    known: dict[int, Any] = {}

    def part(number: int) -> Any:
        if number not in known:
            known[number] = whole(json.loads(texts.pop(number)))
        return known[number]

    def whole(value: Any) -> Any:
        if isinstance(value, dict):
            if value.keys() == {PART}:
                return part(value[PART])
            if value.keys() == {PARTS}:
                return [part(number) for number in numbers_of(value[PARTS])]
            return {key: whole(each) for key, each in value.items()}
        return [whole(each) for each in value] if isinstance(value, list) else value

    try:
        read = whole(json.loads(state))
    except (KeyError, TypeError, RecursionError):
        raise ValueError("a part of the state is missing") from None
    if not isinstance(read, dict):
        raise ValueError("the state is no table")
    return read
