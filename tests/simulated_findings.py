"""Simulated learners who look for what is off in a sleeve that shows folds."""

from __future__ import annotations

import random

from simulated_tally import Tally

from tutor.fit.causes import CAUSES
from tutor.fit.folds import folds
from tutor.fit.look import Look, look
from tutor.fit.signs import SIGNS
from tutor.fit.strain import Worn
from tutor.lesson.task import DiagnoseTask
from tutor.practice.session import Session

AT_RANDOM = 12


def told_to_find_out(session: Session, tally: Tally, chance: random.Random) -> None:
    """Ones who look for all signs and name the cause that shows them and the folds; and ones who guess.

    Which mistake a guess shows is worked out here from misfits, folds and signs alone.
    """
    task = session.task
    assert isinstance(task, DiagnoseTask)
    signs = list(task.signs_on(session.pattern.sleeve))
    chance.shuffle(signs)
    session.clear()
    tally.add_right(session.answer(f"{task.cause} by {', '.join(signs)}"))
    for _ in range(AT_RANDOM):
        cause, asked = chance.choice(task.names), chance.sample(signs, chance.randint(0, len(signs)))
        session.clear()
        marked = session.answer(" ".join([cause, *asked]))
        mistake = _mistake(session, task, cause, asked)
        if mistake is None:
            assert marked.passed, f"{cause} by {asked}"
        else:
            assert marked.total == (0.5 if mistake == "first-sign-alone" else 0), f"{cause} by {asked}"
            tally.add_mistake(mistake, marked)


def _mistake(session: Session, task: DiagnoseTask, cause: str, asked: list[str]) -> str | None:
    """The usual mistake that a finding shows; None where it is right and proved."""
    amount = float(task.amount)
    true, named = CAUSES[task.cause].made(amount), CAUSES[cause].made(amount)
    shown = {name: [SIGNS[s].way(CAUSES[name].made(amount)) for s in asked] for name in task.names}
    if cause == task.cause:
        left = [name for name in task.names if _look(session, name, amount) == _look(session, cause, amount)]
        left = [name for name in left if shown[name] == shown[cause]]
        return None if left == [cause] and any(shown[cause]) else "first-sign-alone"
    if shown[cause] != shown[task.cause]:
        return "sign-overlooked"
    if named == true.mirrored:
        return "other-side"
    if named == -true:
        return "contrary-cause"
    alike = _look(session, cause, amount) == _look(session, task.cause, amount)
    return "look-alike" if alike else "other-folds"


def _look(session: Session, cause: str, amount: float) -> Look | None:
    sleeve = session.pattern.sleeve
    return look(folds(Worn(sleeve, CAUSES[cause].made(amount))), sleeve)
