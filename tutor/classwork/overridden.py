"""Which answer each of the teacher's own marks was given to, so that none passes to another answer without a word.

A mark is taken as given to the answer that was kept when its row in ``overrides.csv`` was first met as it stands; a row
whose mark or reason is changed is given anew, to the answer that is kept then. A row that can't be used in a run, or is
not there, may be back as it stood in the next: what was noted of it stays.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from tutor.classwork.homework import Homework
from tutor.classwork.learner import Learner
from tutor.classwork.overrides import NO_ANSWER, Override, Overrides, read_overrides
from tutor.classwork.register import Register
from tutor.classwork.standing import Standing, mark_shown
from tutor.classwork.store import Answer, Store
from tutor.classwork.words import given_words
from tutor.faults import Fault

LONGEST_ANSWER = 60


def note_overrides(homework: Homework, register: Register, store: Store) -> None:
    """Notes to which answers the teacher's marks were given, before any of these is replaced. Raises Fault."""
    with store.locked():
        try:
            overrides, _ = read_overrides(store.folder, homework, register)
        except Fault:
            # The report raises it as well, once what was handed in is kept.
            return
        overridden(overrides, register, store)


def overridden(overrides: Overrides, register: Register, store: Store) -> Overrides:
    """The marks, each with the answer that it was given to where the learner's is another now; keeps the notes."""
    learners = {learner.file: learner for learner in register.learners}
    before, found = store.overridden(), {}
    noted = dict(before)
    for (file, number), override in overrides.items():
        place, now = f"{file}, task {number}", _note(override, learners[file], number, store)
        note = before.get(place, now)
        if (note["mark"], note["reason"]) != (now["mark"], now["reason"]):
            note = now
        noted[place] = note
        moved = note["answer"] != now["answer"]
        found[file, number] = replace(override, given_to=note["words"] if moved else "")
    if noted != before:
        store.write_overridden(noted)
    return found


def _note(override: Override, learner: Learner, number: int, store: Store) -> dict[str, Any]:
    answer = store.answers(learner).get(number)
    digest = "" if answer is None else answer.digest
    return {"mark": override.mark, "reason": override.reason, "answer": digest, "words": _words(answer)}


def _words(answer: Answer | None) -> str:
    """An answer in so many words as a line has room for."""
    if answer is None or answer.given is None:
        return NO_ANSWER
    words = given_words(answer.given, answer.source)
    return words if len(words) <= LONGEST_ANSWER else f"{words[:LONGEST_ANSWER]}…"


def moved_lines(standing: Standing) -> list[str]:
    """A line for each mark of the teacher's that was given to another answer than the one it counts for now."""
    lines = []
    for number, override in standing.overrides.items():
        if not override.given_to:
            continue
        result, given = standing.results.get(number), override.shown
        earns = mark_shown(None if result is None else result.total)
        then = override.given_to if override.given_to == NO_ANSWER else f"another answer, {override.given_to}"
        now = f"{_words(standing.answers.get(number))}, which earns {earns or 'no mark yet'}"
        what = f"gave {standing.learner.name} {given} for task {number} on {then}; now it is {now}, and {given} counts"
        right = f"take the row away for what the answer earns, or write its reason anew to keep {given}"
        lines.append(str(Fault(override.place, what, right)))
    return lines
