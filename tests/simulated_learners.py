"""Learners simulated over every task of the lessons, in many variants, and how well the tutor understands them.

    python tests/simulated_learners.py [VARIANTS [LESSON...]]

Of every task, and by turns in centimetres and in inches, there are

- learners who are right but for measuring and rounding;
- learners who make one usual mistake, worked out here from landmarks, measures, plans and triangles of their own and
  not by the tutor's own derivations (but for the corner of a cap that is not trued): from exact figures, and from
  figures that were rounded before, read off the tape; written in millimetres, in sixteenths or in eighths of an inch;
- learners who are wrong in no usual way: figures picked ``anywhere`` between the least and the greatest that a mistake
  leads to or ``near`` the right one, a third to three times it; and plans with ``amounts``, ``hinges`` or ``slashes``
  at random.

An answer out of the blue can happen to be, to the very division it is written in, what one of the learners with a usual
mistake answered. Nobody could tell it from that mistake: such answers are counted apart, as usual by chance, and the
last column has the share named with them among the others.

Printed is how often a right answer fails or is accused, how often a mistake is the one that is named, and how often one
is named where none was made. The status is 1 when a task is out of the bounds below.
"""

from __future__ import annotations

import random
import sys

from lessons_for_tests import own_lessons
from simulated_choices import given_a_choice
from simulated_figures import asked_for_a_figure
from simulated_findings import told_to_find_out
from simulated_places import asked_for_a_place
from simulated_plans import told_to_alter
from simulated_tally import Tally, table

from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import find_lesson
from tutor.marking.case import NumberCase
from tutor.marking.choice import ChoiceCase
from tutor.marking.diagnosis import DiagnosisCase
from tutor.marking.place import PlaceCase
from tutor.practice.session import Session
from tutor.practice.worked import case_of
from tutor.units import Unit

NAMED = 0.95
"""The least share of mistakes that are to be named rightly, in every task; a right answer never fails or is accused."""
GUESSED = 0.05
"""The greatest share of answers wrong in no usual way in which a mistake may be named, in every task."""


def simulate(lesson: Lesson, seeds: range) -> list[Tally]:
    """The tallies of a lesson's tasks over variants, even ones in centimetres and odd ones in inches."""
    tallies = [Tally(f"{lesson.number}.{k} {task.title}") for k, task in enumerate(lesson.tasks, 1)]
    for seed in seeds:
        for number, tally in enumerate(tallies, 1):
            chance = random.Random(f"{lesson.name} {seed} {number}")
            session = Session(lesson, Unit.INCH if seed % 2 else Unit.CM, seed)
            session.go_to_task(number)
            case = case_of(session.lesson, number)
            if isinstance(case, NumberCase):
                asked_for_a_figure(session, case, tally, chance)
            elif isinstance(case, ChoiceCase):
                given_a_choice(session, tally, chance)
            elif isinstance(case, DiagnosisCase):
                told_to_find_out(session, tally, chance)
            elif isinstance(case, PlaceCase):
                asked_for_a_place(session, tally, chance)
            else:
                told_to_alter(session, case, tally, chance)
    return tallies


def out_of_bounds(tallies: list[Tally]) -> list[str]:
    """The tasks in which the tutor does not understand its learners well enough."""
    return [
        tally.title
        for tally in tallies
        if tally.failed or tally.accused or tally.share_named < NAMED or tally.share_guessed > GUESSED
    ]


def main(arguments: list[str]) -> int:
    variants = int(arguments[0]) if arguments else 300
    lessons = [find_lesson(name) for name in arguments[1:]] or own_lessons()
    tallies = [tally for lesson in lessons for tally in simulate(lesson, range(variants))]
    print("\n".join(table(tallies)))
    outside = out_of_bounds(tallies)
    print(f"out of bounds: {', '.join(outside)}" if outside else "every task is within its bounds")
    return 1 if outside else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
