"""Simulated learners who are given something to choose among."""

from __future__ import annotations

import random

from simulated_tally import Tally

from tutor.practice.session import Session

AT_RANDOM = 20


def given_a_choice(session: Session, tally: Tally, chance: random.Random) -> None:
    """Right ones; and ones who choose anything else at random, who must fail."""
    right = session.right_options()
    names = [option.name for option in session.options]
    tally.add_right(session.answer(", ".join(chance.sample(right, len(right)))))
    for _ in range(AT_RANDOM):
        most = 1 if session.task_picks_one else len(names)
        chosen = chance.sample(names, chance.randint(1, most))
        marked = session.answer(" ".join(chosen))
        assert marked.passed == (set(chosen) == set(right)), f"{chosen} of {names} where {right} is right"
