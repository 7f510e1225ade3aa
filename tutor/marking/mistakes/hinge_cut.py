"""A hinge cut through that had to hold: pieces slide where they should turn.

Of the crown's that is ``crown_wide_open``, of the hem's ``hem_widened``.
"""

from __future__ import annotations

from collections.abc import Iterator

from tutor.alteration.plan import Place
from tutor.marking.case import Case
from tutor.marking.likely import parted
from tutor.marking.mistake import Mistake, PlanAnswer, Wrong
from tutor.marking.places import hinge_words, slid
from tutor.marking.wrong_plans import HingeCut, hinges_cut


def _plans(case: Case) -> Iterator[Wrong]:
    for cut in hinges_cut(case.plan) if case.plan is not None else ():
        if not (cut.at_hem or cut.at_crown):
            yield Wrong(_Reply(cut), cut.plan, likely=parted)


class _Reply:
    """What is said of the hinge at one place."""

    def __init__(self, cut: HingeCut) -> None:
        self.cut = cut

    def __call__(self, answer: PlanAnswer) -> tuple[str, str]:
        where = hinge_words(self.cut.place)
        said = f"The hinge at {where} is cut through"
        moved = _slid(answer, self.cut.place) or self._slid_in_theory(answer)
        if moved is not None:
            said = f"{said}: {moved[0]} has slid {answer.length(moved[1])} there"
        return f"{said}.", f"Leave the paper holding at {where}, so that the piece turns about it."

    def _slid_in_theory(self, answer: PlanAnswer) -> tuple[str, float] | None:
        altered = answer.case.altered(self.cut.plan)
        return None if altered is None else slid(altered, self.cut.place)


def _slid(answer: PlanAnswer, place: Place) -> tuple[str, float] | None:
    return None if answer.altered is None else slid(answer.altered, place)


MISTAKE = Mistake("hinge-cut", plans=_plans, words="a hinge cut through that had to hold")
