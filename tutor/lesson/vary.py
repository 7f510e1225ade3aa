"""What a lesson's variants are drawn from: arms as they have been measured, and how far a block may go from its own."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from tutor.lesson.amount import Amount

Span = tuple[float, float]
Percentiles = tuple[float, float, float]
"""The 5th, 50th and 95th percentile of a measure of people, mm."""

ARMS: dict[tuple[str, str], Percentiles] = {
    ("women", "flexed"): (259, 304, 360),
    ("men", "flexed"): (303, 357, 418),
    ("women", "relaxed"): (246, 315, 425),
    ("men", "relaxed"): (277, 341, 424),
}
"""Girths of upper arms.

Flexed: biceps, ANSUR II 2012 (Gordon et al. 2014, NATICK/TR-15/007). Relaxed: mid-arm of people over 20, NHANES
2015-16, interview weights. Of one lesson all arms are measured one way.
"""

SHOULDER_TO_ELBOW: Percentiles = (307, 334, 363)
"""The upper arm's length; women, ANSUR II 2012 (as above). Men's spread is taken to be the same share of theirs."""


class Vary(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, rename="kebab"):
    """The spans (low, high) that variants are drawn from; what is left out is drawn near the lesson's own.

    ``arms`` says whose; ``arm_girth`` cuts the measured span shorter. Girths further down go along with the arm in
    part, and ``stretch`` (per cent) stays, unless they have spans; a sleeve is longer or shorter as upper arms are.
    ``room`` is what the sleeve lacks at the bicep line: arm and ease less the block's girth, which follows from it.
    ``armhole`` is a factor on what each armhole would be in proportion to the block's girth. ``plans`` gives a factor
    for the amounts written in a plan, each drawn by itself, and ``goals`` one for every figure written for a measure,
    in goals and in plans alike; what a complaint is counted in is such a figure too, and goes by ``complaints`` where
    its measure has no span; with ``complaints_by_room`` what is counted in bicep girth is what the block lacks, or has
    to spare. ``difficulty`` is how far a goal may be from the start, in times the lesson's own.
    """

    arms: Literal["women", "men"] = "women"
    arm_girth: tuple[Amount, Amount] | None = None
    wearing_ease: tuple[Amount, Amount] | None = None
    elbow: tuple[Amount, Amount] | None = None
    forearm: tuple[Amount, Amount] | None = None
    wrist: tuple[Amount, Amount] | None = None
    hand: tuple[Amount, Amount] | None = None
    stretch: Span | None = None
    room: tuple[Amount, Amount] | None = None
    cap_ease: tuple[Amount, Amount] | None = None
    sleeve_length: tuple[Amount, Amount] | None = None
    armhole: Span = (0.97, 1.03)
    hem_girth: Span = (0.95, 1.05)
    plans: dict[str, Span] = {}
    goals: dict[str, Span] = {}
    complaints: Span = (0.85, 1.2)
    complaints_by_room: bool = False
    difficulty: Span = (0.6, 1.6)
