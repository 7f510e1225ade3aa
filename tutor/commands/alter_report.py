"""An alteration, or its refusal, as tables and as JSON."""

from __future__ import annotations

import math
from typing import Any

from tutor.alteration.alter import Altered
from tutor.alteration.refusal import Refusal
from tutor.alteration.solving import Asked
from tutor.commands.measures_table import DECIMALS, change_rows, shown
from tutor.commands.output import print_table
from tutor.faults import printable
from tutor.pattern.measures import MEASURES, on_arm, words_for
from tutor.units import Unit, format_area, format_length

Measures = dict[str, float]


def before_and_after(altered: Altered, arm: float | None) -> tuple[Measures, Measures]:
    """All measures of both patterns, with the wearing ease where the arm's girth (mm) is known."""
    untouched = {"bust-gain": 0.0, "overlap": 0.0, "gap": 0.0}
    before, after = (_eased(found, arm) for found in (altered.measures_before | untouched, altered.measures_after))
    return before, after


def _eased(measures: Measures, arm: float | None) -> Measures:
    if arm is None:
        return measures
    order = {name: k for k, name in enumerate(MEASURES)}
    eased = measures | on_arm(measures["bicep-girth"], arm)
    return dict(sorted(eased.items(), key=lambda item: order.get(item[0], len(order))))


def print_altered(altered: Altered, arm: float | None, unit: Unit) -> None:
    """Prints everything that an alteration changed, for people."""
    before, after = before_and_after(altered, arm)
    areas = {name: after.pop(name) for name in ("overlap", "gap")}
    names = [altered.before.title, altered.plan.title]
    print(printable(": ".join(name for name in names if name) or "altered"))
    print()
    print_table(change_rows(before, after, unit))
    print()
    print_table([("", "before", "as cut", "as trued"), *_seam_rows(altered, unit)])
    if altered.asked:
        print()
        print_table([("opening", "asked", "came out"), *_opening_rows(altered, unit)])
    print()
    if after.get("wearing-ease", 0.0) < 0:
        short = format_length(-after["wearing-ease"], unit, decimals=DECIMALS)
        print(f"The sleeve is still smaller than the arm, by {short} at the bicep line.")
    print(f"{_counted(len(altered.pieces), 'piece')}: {', '.join(piece.name for piece in altered.pieces)}")
    print(f"overlap {format_area(areas['overlap'], unit)}, gap {format_area(areas['gap'], unit)}")


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _seam_rows(altered: Altered, unit: Unit) -> list[tuple[str, ...]]:
    """Seam lengths before, as the paper was cut and moved, and as redrawn."""
    return [
        (words_for(name), *(shown(name, value, unit) for value in (altered.measures_before[name], cut, trued)))
        for name, cut in altered.as_cut.items()
        if (trued := altered.measures_after.get(name)) is not None
    ]


def _opening_rows(altered: Altered, unit: Unit) -> list[tuple[str, ...]]:
    return [
        (
            f"{asked.opening.slash}, {_place(asked)}",
            *(format_length(mm, unit, True, DECIMALS) for mm in (asked.amount, opened)),
        )
        for asked, opened in zip(altered.asked, altered.opened, strict=True)
    ]


def _place(asked: Asked) -> str:
    """Where on its slash an opening was asked, in the plan file's words."""
    opening = asked.opening
    if opening.where:
        side = {"start": ", toward from", "end": ", toward to"}.get(opening.toward, "")
        return f"where {opening.where} crosses{side}"
    return {0.0: "at from", 1.0: "at to"}.get(opening.share, f"at {opening.share:.3g} of it")


def altered_json(altered: Altered, arm: float | None) -> dict[str, Any]:
    """Everything an alteration changed, lengths in mm, angles in degrees, areas in mm2."""
    before, after = before_and_after(altered, arm)
    return {
        "title": altered.plan.title,
        "before": before,
        "after": after,
        "change": {name: after[name] - before[name] for name in after if name in before},
        "as-cut": altered.as_cut,
        "openings": [
            {
                "slash": asked.opening.slash,
                "place": _point(asked.point),
                "asked": asked.amount,
                "opened": opened,
            }
            for asked, opened in zip(altered.asked, altered.opened, strict=True)
        ],
        "pieces": [
            {
                "name": piece.name,
                "turn": math.degrees(piece.move.angle),
                "shift": _point(piece.move.shift),
            }
            for piece in altered.pieces
        ],
        "residual": altered.residual,
    }


def refusal_json(refusal: Refusal) -> dict[str, Any]:
    """Why paper can't do it; the place in mm, or null where it is about no one place."""
    return {
        "kind": refusal.kind,
        "what": refusal.what,
        "slash": refusal.slash,
        "piece": refusal.piece,
        "place": None if refusal.place is None else _point(refusal.place),
    }


def _point(point: complex) -> list[float]:
    return [float(point.real), float(point.imag)]
