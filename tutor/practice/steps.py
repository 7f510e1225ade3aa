"""A plan told as steps at the cutting table."""

from __future__ import annotations

from tutor.alteration.plan import Answer, Plan, Slash
from tutor.pattern.pattern import Pattern
from tutor.practice.outlines import outline_of
from tutor.practice.place_text import place_words
from tutor.practice.stations import stations
from tutor.units import Unit, format_length


def slash_words(slash: Slash, unit: Unit) -> str:
    """A slash in words: from where to where, and what holds."""
    ends = ((slash.start, slash.start_hinge), (slash.end, slash.end_hinge))
    held = [place_words(place, unit) for place, hinge in ends if hinge]
    hinges = f", a hinge at {' and at '.join(held)}" if held else ", cut through at both ends"
    return f"{slash.name}: from {place_words(slash.start, unit)} to {place_words(slash.end, unit)}{hinges}"


def opening_words(amount: float, unit: Unit) -> str:
    """What is done at a station: opened or overlapped, and by how much."""
    if amount == 0:
        return "kept closed"
    return f"{'opened' if amount > 0 else 'overlapped'} by {format_length(abs(amount), unit)}"


def plan_steps(pattern: Pattern, plan: Plan, unit: Unit) -> tuple[str, ...]:
    """The plan step by step, in the order the hands do it."""
    steps = ["Cut the cap off along the bicep line and lay it aside."] if plan.set_back else []
    steps += [f"Slash {slash_words(slash, unit)}." for slash in plan.slashes]
    outline = outline_of(pattern, plan)
    for slash in plan.slashes:
        for station in stations(pattern.sleeve, outline, plan, slash.name):
            if station.amount is not None:
                steps.append(f"{slash.name}, {station.words}: {opening_words(station.amount, unit)}.")
    if plan.set_back:
        steps.append("Set the cap back on the new bicep line and carry its seam out to the new underarm points.")
    for side, answer in (("back", plan.back), ("front", plan.front)):
        if answer != Answer():
            steps.append(f"On the {side} bodice {answer_words(answer, unit)}.")
    if plan.slashes:
        steps.append("True the seams.")
    return tuple(steps)


def answer_words(answer: Answer, unit: Unit) -> str:
    """What is to be done at one armhole, as an order; what stays is left out."""
    out = f"move the side seam {'out' if answer.widen >= 0 else 'in'} by {format_length(abs(answer.widen), unit)}"
    down = f"{'lower' if answer.lower >= 0 else 'raise'} the underarm by {format_length(abs(answer.lower), unit)}"
    said = [words for words, amount in ((out, answer.widen), (down, answer.lower)) if amount]
    return " and ".join(said) or "leave side seam and underarm as they are"


def answer_told(answer: Answer, unit: Unit) -> str:
    """How one armhole lies: "side seam out 1.0 cm, underarm down 0.0 cm"."""
    out = f"side seam {'out' if answer.widen >= 0 else 'in'} {format_length(abs(answer.widen), unit)}"
    down = f"underarm {'down' if answer.lower >= 0 else 'up'} {format_length(abs(answer.lower), unit)}"
    return f"{out}, {down}"
