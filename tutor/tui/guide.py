"""The line at the foot of the screen: where things stand, and always what to do next."""

from __future__ import annotations

from tutor.alteration.refusal import LOOSE, Refusal
from tutor.practice.place_text import place_words
from tutor.practice.session import Session
from tutor.tui.placing import CANDIDATE, Placing, refused
from tutor.tui.plan_lines import Kind, PlanLine, line_amount, main_station
from tutor.units import Unit, format_length


def placing_words(session: Session, placing: Placing, unit: Unit) -> str:
    """What to do while a slash is placed."""
    here = placing.track.words(placing.marker, unit)
    if placing.moving:
        return f"Moving the {placing.moving} of slash {placing.name}: the marker @ is at {here}. Enter sets it there."
    if placing.set_place is None:
        return (
            f"The slash starts where the marker @ stands: {here}."
            " Arrows walk it, n goes to the next named place, Enter sets it."
        )
    if placing.candidate is None:
        start = place_words(placing.set_place, unit)
        return f"Starts at {start}. Now walk to where the slash ends: arrows, n for the next named place, g by name."
    reason = refused(session, placing)
    if reason is not None:
        return f"From {place_words(placing.set_place, unit)} to {here}: {refusal_words(reason, unit)}."
    first, last = placing.candidate
    long = format_length(abs(last - first), unit)
    return (
        f"From {place_words(placing.set_place, unit)} to {here}, {long}."
        " Walk on, or Enter sets the end here (h: with a hinge)."
    )


def refusal_words(refusal: Refusal, unit: Unit) -> str:
    """Why paper can't, of a slash that may have no name yet."""
    return refusal.words(unit).replace(f"the slash {CANDIDATE}", "this slash")


def plan_words(session: Session, line: PlanLine | None, unit: Unit) -> str:
    """What to do with the plan as it stands: empty, drawn, refused or solved."""
    if session.plan is None:
        return _empty(session)
    found = session.preview()
    opened = any(opening.amount for opening in session.draft.openings)
    if isinstance(found, Refusal):
        if found.kind == LOOSE and not opened:
            return f"{_sentence(found.words(unit))} [ ] make hinges, + opens."
        return f"Paper can't do this (see !): {found.words(unit)}."
    if session.standing() == "passed":
        last = session.task_number == len(session.tasks)
        return "Passed. n: " + ("the lesson is done, back to the list." if last else "on to the next task.")
    if session.draft.slashes and not opened:
        return f"Drawn, but nothing opens yet. {_how_to_open(session, line, unit)}"
    return f"{_about(line, unit)} c has it marked; u takes the last step back."


def number_words(session: Session) -> str:
    """What to do in a task that asks for a figure."""
    if session.standing() == "passed":
        last = session.task_number == len(session.tasks)
        return "Passed. n: " + ("the lesson is done, back to the list." if last else "on to the next task.")
    if session.answered is None:
        return "Work it out from the figures on the tape, then press Enter and write your answer."
    return f"Your answer was {session.answered}. Enter writes another; h gives a hint."


def _empty(session: Session) -> str:
    ways = []
    if session.may_use("slashes"):
        ways.append("s to start a slash (a line to cut along, from edge to edge)")
    if session.may_use("set-back"):
        ways.append("l to lift the cap off first")
    if session.may_use("armhole"):
        ways.append("+ to change the chosen amount of the armhole, ↑↓ to choose another")
    return f"Press {'; '.join(ways)}."


def _how_to_open(session: Session, line: PlanLine | None, unit: Unit) -> str:
    slash = session.draft.slash(line.slash) if line is not None else None
    slash = slash or session.draft.slashes[-1]
    station = line.station if line is not None and line.station else main_station(session.stations(slash.name), slash)
    if station is None:
        return "s draws another slash; [ and ] change hinge and through cut."
    return (
        f"+ opens {slash.name} {station.words}, Enter types the amount."
        " ↓ chooses another place, [ ] hinge or cut, s another slash."
    )


def _about(line: PlanLine | None, unit: Unit) -> str:
    if line is None or line.kind is Kind.SET_BACK:
        return "↑↓ choose a line, + and - change it."
    if line.kind is Kind.SLASH:
        return f"Slash {line.slash} is chosen: + and - open it, [ ] change its ends."
    if line.kind is Kind.ANSWER:
        return f"{line.words}: {line_amount(line, unit)}. + and - change it, Enter types it."
    asked = f"is {line_amount(line, unit)}" if line.amount is not None else "is not asked to open"
    return f"{line.slash} {line.words} {asked}. + and - change it, Enter types it."


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".") + "."
