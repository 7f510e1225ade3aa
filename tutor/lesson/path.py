"""The way through the course: which lesson builds on which, and which comes next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tutor.lesson.listing import Listed

DONE = ("passed", "shown")
"""Standings after which one can go on."""


def builds_on(lesson: Listed, lessons: Sequence[Listed]) -> tuple[Listed, ...]:
    """The lessons that should be done before this one, as far as they are there."""
    return tuple(other for other in lessons if other.number in lesson.after)


def next_on_path(lessons: Sequence[Listed], standings: Mapping[str, str]) -> Listed | None:
    """The lesson to do next, by the standings ("passed", "begun" ...) of lessons by name; None when all are done.

    One under way comes first; then, by their numbers, one that everything it builds on is done for.
    """
    left = [lesson for lesson in lessons if standings.get(lesson.name) not in DONE]
    under_way = [lesson for lesson in left if standings.get(lesson.name) == "begun"]
    ready = [
        lesson for lesson in left if all(standings.get(other.name) in DONE for other in builds_on(lesson, lessons))
    ]
    return next(iter([*under_way, *ready, *left]), None)
