"""Figures told without a picture: each in sentences and a table.

Places are told from where the grain meets the bicep line: across, + to the front and - to the back, and up, + above
the bicep line and - below it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from tutor.alteration.alter import Altered
from tutor.alteration.place_words import LANDMARK_WORDS, place_words
from tutor.alteration.plan import Opening, Plan, Slash
from tutor.alteration.refusal import Refusal
from tutor.alteration.solving import parting, place_opening
from tutor.geometry.region import section
from tutor.lesson.task import Task, plan_asked_after
from tutor.marking.figures import shown
from tutor.pattern.armhole import Armhole
from tutor.pattern.cap_walk import CapWalk
from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import Sleeve
from tutor.practice.outlines import outline_of
from tutor.practice.stations import slash_line, stations
from tutor.units import Unit, format_area, format_length

Told = tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]
"""A figure: its sentences, and the rows of its table with the heads first; no rows where there is nothing to list."""

WIDTHS = (("bicep-girth", "at the bicep line"), ("elbow-girth", "at the elbow line"), ("hem-girth", "at the hem"))
FROM = "Places are told from where the grain meets the bicep line: across is + to the front, up is + above the line."
CAP_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Shares of a half cap's seam that its shape is told at."""
SAME = 0.05
"""mm and degrees; less is nothing to tell."""


def as_it_lies(task: Task) -> str:
    """What to know of a cap walked where something is asked about a plan's outcome: the plan is not carried out yet."""
    return "This is the cap before the change." if plan_asked_after(task) else ""


def sleeve_told(before: Pattern, altered: Altered | None, unit: Unit) -> Told:
    """The sleeve: how wide and how high it is, and where its named places are; beside that what it was, if altered."""
    now = before.sleeve if altered is None else altered.after.sleeve
    was, figures = measure(before), measure(before if altered is None else altered.after)
    first, *others = (f"{_now_was(name, figures, was, unit)} {where}" for name, where in WIDTHS if name in figures)
    wide = [first.replace(" at ", " wide at ", 1), *others]
    hem = (now.hem.start.imag + now.hem.end.imag) / 2
    sentences = [
        f"The sleeve lies with its back to the left and its front to the right. It is {_listed(wide)}.",
        f"The crown stands {_now_was('cap-height', figures, was, unit)} above the bicep line,"
        f" {_across(now.crown, unit)}; the hem lies {_length(-hem, unit)} below it.",
    ]
    if altered is not None:
        sentences.append(_uncovered(altered, unit))
    return (*sentences, FROM), _place_rows(now, before.sleeve if altered is not None else None, unit)


def cap_told(before: Pattern, altered: Altered | None, unit: Unit) -> Told:
    """The cap seam's shape: where it is at each quarter of the way from an underarm point to the crown."""
    now = before.sleeve if altered is None else altered.after.sleeve
    rows: list[tuple[str, ...]] = [("cap seam", "along", "across", "up")]
    for side in ("back", "front"):
        seam = now.seam(f"cap-{side}")
        up = seam if side == "back" else seam.reversed()
        for share in CAP_SHARES:
            far = share * up.length()
            rows.append(
                (f"{side}, {_share_words(share)}", _length(far, unit), *_point(up.point(up.at_distance(far)), unit))
            )
    lengths = [f"{_length(now.seam(f'cap-{side}').length(), unit)} at the {side}" for side in ("back", "front")]
    sentence = f"The cap seam is {_listed(lengths)} long. It is told from each underarm point up to the crown."
    return (sentence, FROM), tuple(rows)


def slashes_told(pattern: Pattern, plan: Plan, altered: Altered | None, unit: Unit) -> Told:
    """The slashes: from where to where, how long, which ends hold, and how far each has opened along its way."""
    if not plan.slashes:
        return ("There is no slash yet.",), ()
    outline = outline_of(pattern, plan)
    sentences, rows = list[str](), [("place", "opened by")]
    for slash in plan.slashes:
        line = slash_line(outline, plan, slash.name)
        long = (
            "is nowhere on the paper as it is" if line is None else f"is {_length(abs(line[1] - line[0]), unit)} long"
        )
        ends = [
            f"{place_words(place, unit)} ({'a hinge' if hinge else 'cut through'})"
            for place, hinge in ((slash.start, slash.start_hinge), (slash.end, slash.end_hinge))
        ]
        sentences.append(f"Slash {slash.name} {long}: from {ends[0]} to {ends[1]}.")
        if altered is not None:
            rows += _opened_rows(pattern, plan, altered, slash, unit)
    return tuple(sentences), tuple(rows) if len(rows) > 1 else ()


def pieces_told(altered: Altered, unit: Unit) -> Told:
    """The pieces as cut: how each has turned, and where its middle has gone."""
    rows: list[tuple[str, ...]] = [("piece", "turned", "across", "up")]
    for piece in altered.pieces:
        after = section(piece.ring).centre
        gone = after - piece.move.inverse()(after)
        rows.append((piece.name, _turn(piece.move.angle), *_point(gone, unit)))
    count = len(altered.pieces)
    said = f"The paper is cut into {count} pieces." if count > 1 else "The paper is in one piece."
    told = (
        "Each is told by how it has turned, and how far its middle has moved: across is + to the front, up is + to the"
        " crown."
    )
    return (said, told), tuple(rows)


def armhole_told(before: Armhole, now: Armhole, unit: Unit) -> Told:
    """An armhole: how long, how wide and how deep it is, and its named places from the underarm point up."""
    arm = now.seam.end - now.seam.start
    was = before.seam.length()
    long = _length(now.seam.length(), unit)
    earlier = f", and was {_length(was, unit)}" if abs(now.seam.length() - was) > SAME else ""
    sentence = (
        f"The {now.side} armhole is {long} along its seam{earlier}: from the underarm point to the shoulder tip it goes"
        f" {_length(abs(arm.real), unit)} across and {_length(arm.imag, unit)} up."
    )
    places = [("underarm point", 0.0), *((LANDMARK_WORDS.get(m.name, m.name), m.u) for m in now.marks)]
    places += [("across point", now.across), ("shoulder tip", float(len(now.seam)))]
    rows: list[tuple[str, ...]] = [(f"{now.side} armhole", "along", "across", "up")]
    for name, u in sorted(places, key=lambda place: place[1]):
        arm = now.seam.point(u) - now.seam.start
        rows.append((name, _length(now.seam.distance_at(u), unit), *_point(complex(abs(arm.real), arm.imag), unit)))
    return (sentence,), tuple(rows)


def walk_told(walk: CapWalk, unit: Unit) -> Told:
    """Half a cap walked along its armhole: from notch to notch how long each is, and where the ease sits."""
    rows = [(f"{walk.side} half", "cap", "armhole", "ease")]
    for stretch in walk.stretches:
        names = " to ".join(LANDMARK_WORDS.get(name, name) for name in (stretch.start, stretch.end))
        ease = format_length(stretch.ease, unit, signed=True)
        rows.append((names, _length(stretch.cap, unit), _length(stretch.armhole, unit), ease))
    more = walk.cap_length - walk.armhole_length
    longer = f"the cap has {_length(abs(more), unit)} {'left over' if more >= 0 else 'too little'}"
    most = max(walk.stretches, key=lambda stretch: abs(stretch.ease))
    start, end = (LANDMARK_WORDS.get(name, name) for name in (most.start, most.end))
    sits = f" Most of it sits from {start} to {end}." if abs(most.ease) > SAME else ""
    said = f"Walked along the {walk.side} armhole from the underarm point, {longer} at the shoulder.{sits}"
    return (said,), tuple(rows)


def _now_was(name: str, now: Mapping[str, float], was: Mapping[str, float], unit: Unit) -> str:
    figures = shown(name, now[name], unit), shown(name, was.get(name, now[name]), unit)
    return figures[0] if figures[0] == figures[1] else f"{figures[0]} (it was {figures[1]})"


def _place_rows(now: Sleeve, was: Sleeve | None, unit: Unit) -> tuple[tuple[str, ...], ...]:
    places = {name: point for name, point in now.landmarks().items() if name in LANDMARK_WORDS and name != "grain-cap"}
    earlier = {} if was is None else was.landmarks()
    heads = ("place", "across", "up", *(("was across", "was up") if earlier else ()))
    rows = [
        (LANDMARK_WORDS[name], *_point(point, unit), *(_point(earlier[name], unit) if name in earlier else ()))
        for name, point in places.items()
    ]
    return heads, *rows


def _opened_rows(pattern: Pattern, plan: Plan, altered: Altered, slash: Slash, unit: Unit) -> list[tuple[str, str]]:
    """How far a slash has opened at both its ends and at every place between that has a name."""
    moves = [piece.move for piece in altered.pieces]
    known = stations(pattern.sleeve, outline_of(pattern, plan), plan, slash.name)
    places = [(station.words, station.opening(0.0), station.share) for station in known]
    for share, place in ((0.0, slash.start), (1.0, slash.end)):
        if all(abs(share - at) > 1e-6 for _, _, at in places):
            places.append((f"at {place_words(place, unit)}", Opening(slash.name, 0.0, share), share))
    rows = []
    for words, opening, _ in sorted(places, key=lambda place: place[2]):
        try:
            amount = parting(moves, place_opening(altered.paper, opening)).real
        except Refusal:
            continue
        told = format_length(amount, unit, signed=True) if abs(amount) > SAME else "shut"
        rows.append((f"{slash.name}, {words}", told))
    return rows


def _uncovered(altered: Altered, unit: Unit) -> str:
    overlap, gap = altered.areas
    said = f"Inside the new outline {format_area(gap, unit)} are open"
    return f"{said}, and paper lies on paper over {format_area(overlap, unit)}." if overlap >= 1 else f"{said}."


def _turn(angle: float) -> str:
    degrees = math.degrees(angle)
    if abs(degrees) < SAME:
        return "0.0°"
    return f"{abs(degrees):.1f}° {'anticlockwise' if degrees > 0 else 'clockwise'}"


def _across(point: complex, unit: Unit) -> str:
    """Which side of the grain a point is on, and how far."""
    far = _length(abs(point.real), unit)
    if far == _length(0.0, unit):
        return "on the grain"
    return f"{far} {'in front of' if point.real > 0 else 'behind'} the grain"


def _point(point: complex, unit: Unit) -> tuple[str, str]:
    return format_length(point.real, unit, signed=True), format_length(point.imag, unit, signed=True)


def _length(mm: float, unit: Unit) -> str:
    return format_length(mm, unit)


def _share_words(share: float) -> str:
    words = {0.0: "at the underarm point", 0.5: "half way", 1.0: "at the crown"}
    return words.get(share, f"{100 * share:.0f}% of the way")


def _listed(words: Sequence[str]) -> str:
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last
