"""Sessions worked at by a program: the same number always makes the same edit."""

from __future__ import annotations

from pathlib import Path

from lessons_for_tests import small_lesson

from tutor.alteration.plan import Along, Landmark, Place, Share
from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.practice.session import Session
from tutor.units import Unit

PLACES: tuple[Place, ...] = (
    Landmark("crown"),
    Landmark("grain-hem"),
    Landmark("underarm-back"),
    Landmark("underarm-front"),
    Along("hem", 40.0),
    Along("cap-front", 30.0, True),
    Share("underarm-back", 0.25),
)


def easy_lesson(folder: Path) -> Lesson:
    """The small lesson, with a number that takes no alteration to find."""
    return small_lesson(folder, ('after = "crossed"\n', ""))


def edit(session: Session, number: int) -> None:
    """The edit of that number: slashes, openings, undo and redo, hints, answers, another task, another unit."""
    first, second = PLACES[number % 7], PLACES[(number // 7) % 7]
    names = [slash.name for slash in session.draft.slashes]
    if number % 31 == 0:
        session.go_to_task(2)
        session.answer(f"{10 + number % 9} 1/{1 << number % 4} in")
        session.go_to_task(1)
    elif number % 37 == 0:
        session.hint()
    elif number % 41 == 0:
        session.unit = Unit.INCH if session.unit is Unit.CM else Unit.CM
    elif number % 11 in (3, 4, 5):
        session.undo()
    elif number % 11 == 6:
        session.redo()
    elif not names or (number % 5 == 0 and len(names) < 6):
        session.add_slash(first, second, number % 2 == 0, number % 3 == 0)
    elif number % 13 == 1:
        session.remove_slash(names[number % len(names)])
    elif number % 3 == 0:
        session.move_slash(names[number % len(names)], start=first)
    else:
        session.set_hinge(names[number % len(names)], "end", number % 2 == 0)


def edited(session: Session, first: int, last: int) -> Session:
    """The session after the edits ``first`` to ``last``; one that can't be made is left out."""
    for number in range(first, last + 1):
        try_edit(session, number)
    return session


def try_edit(session: Session, number: int) -> None:
    try:
        edit(session, number)
    except Fault:
        return
