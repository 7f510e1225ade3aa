"""The line at the foot of the screen: where things stand, and always what to do next."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tutor.alteration.place_words import place_words
from tutor.alteration.plan import Plan
from tutor.alteration.refusal import LOOSE, NOT_ON_OUTLINE, Refusal
from tutor.marking.points import out_of_100
from tutor.pattern.measures import Kind as Measured
from tutor.pattern.measures import kind_of
from tutor.practice.session import Session
from tutor.practice.signs_told import SignRow
from tutor.practice.taping import grain_of, taped
from tutor.tui.placing import CANDIDATE, Placing, refused
from tutor.tui.plan_lines import Kind, PlanLine, line_amount, main_station
from tutor.tui.seeking import Seeking, seeking_words
from tutor.units import Unit, format_length

SAME_PLACE = 0.01
"""mm."""
MOST_NAMED = 3
"""Open tasks that are told by their numbers."""


def placing_words(session: Session, placing: Placing, unit: Unit) -> str:
    """What to do while a slash is placed."""
    here = placing.track.words(placing.marker, unit)
    if placing.moving:
        return f"Moving the {placing.moving} of slash {placing.name}: the marker @ is at {here}. Enter sets it there."
    if placing.set_place is None:
        return (
            f"The slash starts where the marker @ stands: {here}. Arrows walk it, Tab: next named place; Enter sets it."
        )
    if placing.candidate is None:
        start = place_words(placing.set_place, unit)
        return f"Starts at {start}. Now walk to where the slash ends: arrows, Tab for the next named place, g by name."
    reason = refused(session, placing)
    if reason is not None:
        return f"From {place_words(placing.set_place, unit)} to {here}: {refusal_words(reason, unit)}."
    first, last = placing.candidate
    long = format_length(abs(last - first), unit)
    return (
        f"From {place_words(placing.set_place, unit)} to {here}, {long}."
        " Walk on, or Enter sets the end here (h: with a hinge)."
    )


def measuring_words(session: Session, placing: Placing, unit: Unit) -> str:
    """What a tape measure reads, and what to do with it."""
    here = placing.track.words(placing.marker, unit)
    if placing.first is None or placing.set_place is None:
        return (
            f"The tape starts where the marker @ stands: {here}."
            " Arrows walk it, Tab: next named place; Enter holds the tape there."
        )
    read = tape_read(session, placing, unit)
    if not read:
        return (
            f"The tape is held at {place_words(placing.set_place, unit)}."
            " Walk to its other end: arrows, Tab for the next named place, g by name. Esc takes the tape off."
        )
    return f"{read} Enter starts anew."


def tape_read(session: Session, placing: Placing, unit: Unit) -> str:
    """What a tape measure reads from end to end, in a sentence; "" while it has one end alone."""
    track, way = placing.track, None
    if placing.first is None or placing.set_place is None or placing.candidate is None:
        return ""
    if not placing.first.line and not placing.marker.line:
        way = track.edge.way(placing.first.along, placing.marker.along)
    read = taped(track.point(placing.first), placing.point, way, grain_of(session.pattern.sleeve)).words(unit)
    return f"From {place_words(placing.set_place, unit)} to {track.words(placing.marker, unit)}: {read}"


def refusal_words(refusal: Refusal, unit: Unit) -> str:
    """Why paper can't, of a slash that may have no name yet."""
    words = refusal.words(unit).replace(f"the slash {CANDIDATE}", "this slash")
    return re.sub(rf"the slashes (\w+) and {CANDIDATE}\b", r"\1 and this slash", words)


def plan_words(session: Session, line: PlanLine | None, unit: Unit, *, shown: bool = True) -> str:
    """What to do with the plan as it stands: empty, drawn, refused or solved.

    ``shown`` is whether the place where paper refuses is marked in the picture.
    """
    if session.plan is None:
        return _passed_before(session) + _empty(session)
    found = session.preview()
    opened = any(opening.amount for opening in session.draft.openings)
    if isinstance(found, Refusal):
        if found.kind == LOOSE and not opened:
            return f"{_passed_before(session)}{_sentence(found.words(unit))} [ ] make hinges, + opens."
        return f"{_passed_before(session)}Paper can't do this ({_where(found, shown)}): {_why(session, found, unit)}."
    if right(session, session.plan):
        return _done(session)
    at_the_cap = line is None or line.kind in (Kind.SET_BACK, Kind.SLASH)
    if session.draft.set_back and not session.draft.slashes and at_the_cap:
        off = "The cap is off. s starts a slash in the lower part; l leaves the cap on after all."
        return f"{_passed_before(session)}{off}"
    if session.draft.slashes and not opened:
        return f"{_passed_before(session)}Drawn, but nothing opens yet. {_how_to_open(session, line)}"
    attempts = session.attempts()
    if attempts and attempts[-1].given == session.plan and not attempts[-1].passed:
        mark = f"Marked {out_of_100(attempts[-1].total)} of 100: not passed yet."
        return f"{mark} {_about(line, unit)} h gives a hint; c has it marked again."
    return f"{_passed_before(session)}{_about(line, unit)} c has it marked; u takes the last step back."


def _where(refusal: Refusal, shown: bool) -> str:
    if shown:
        return "see !"
    return "v shows where" if refusal.piece.endswith("bodice") else refusal.kind


def _why(session: Session, refusal: Refusal, unit: Unit) -> str:
    if session.draft.set_back and refusal.kind == NOT_ON_OUTLINE and session.slash_line(refusal.slash) is None:
        name = refusal.slash
        return (
            f"slash {name} has an end on the cap, which is lifted off; m or M moves it, l leaves the cap on after all"
        )
    return refusal.words(unit)


def right(session: Session, given: Plan | str | None) -> bool:
    """Whether this very plan, or this answer, was marked and met what is asked."""
    return given is not None and any(each.passed and each.given == given for each in session.attempts())


def open_tasks(session: Session) -> tuple[int, ...]:
    """The numbers of the tasks that are neither passed nor shown."""
    numbers = range(1, len(session.tasks) + 1)
    return tuple(number for number in numbers if session.standing(number) in ("open", "not passed"))


def still_open(numbers: Sequence[int]) -> str:
    """Which tasks are open, in words: ``task 1 is still open``, ``tasks 1 and 3 are still open``.

    Of more than three how many, and the first.
    """
    if len(numbers) == 1:
        return f"task {numbers[0]} is still open"
    if len(numbers) > MOST_NAMED:
        return f"{len(numbers)} tasks are still open, the first is task {numbers[0]}"
    return f"tasks {', '.join(map(str, numbers[:-1]))} and {numbers[-1]} are still open"


def onward(session: Session) -> str:
    """Where n leads to, in words."""
    return "back to the lessons" if session.task_number == len(session.tasks) else "next task"


def left_words(session: Session) -> str:
    """What to know on coming back to a lesson: which task this is, and which before it, or else after, are open.

    Nothing where no other task is.
    """
    left = open_tasks(session)
    others = [number for number in left if number != session.task_number]
    if not others:
        return ""
    before = [number for number in others if number < session.task_number]
    told = before or others
    way = f": N goes back to {'it' if len(told) == 1 else 'them'}" if before else ": n goes on"
    if not before and session.task_number in left:
        # n would leave the task at hand undone.
        told, way = list(left), ""
    return f"You left off at task {session.task_number} of {len(session.tasks)}; {still_open(told)}{way}."


def _done(session: Session) -> str:
    """What is said of a plan or an answer that is right."""
    verdict = "Passed" if session.standing() == "passed" else "Right, but it counts as shown"
    if session.task_number < len(session.tasks):
        return f"{verdict}. n: on to the next task."
    return f"{verdict}. {_at_the_end(session)}"


def _at_the_end(session: Session) -> str:
    """Where to go from a lesson's last task."""
    others = [number for number in open_tasks(session) if number != session.task_number]
    if others:
        return f"{still_open(others).capitalize()}: N goes back; n: back to the lessons."
    return "n: the lesson is done, back to the lessons."


def _shown(session: Session) -> str:
    """What is said of a task whose worked solution was read, and that was not answered since."""
    return "" if session.standing() != "shown" else "The solution was shown; n goes on. "


def _passed_before(session: Session) -> str:
    return "Passed before (n goes on). " if session.standing() == "passed" else ""


def _can_be_laid_on(measure: str) -> bool:
    """Whether a tape measure laid on the pattern tells a measure, and not the difference of two."""
    return kind_of(measure) is Measured.LENGTH and not any(word in measure for word in ("ease", "mismatch", "taper"))


def number_words(session: Session) -> str:
    """What to do in a task that asks for a figure."""
    if right(session, session.answered):
        return _done(session)
    if session.answered is None and session.hidden and _can_be_laid_on(session.hidden):
        return "Read it off the pattern: m lays a tape measure. Enter asks for your answer, Enter again has it marked."
    if session.answered is None:
        how = "Work it out from the figures on the tape; Enter asks for your answer, Enter again has it marked."
        return _shown(session) + how
    return f"{_passed_before(session)}Your answer was {session.answer_read}. Enter writes another; h gives a hint."


def choice_words(session: Session) -> str:
    """What to do in a task that gives something to choose among."""
    if right(session, session.answered):
        return f"{_done(session)} ↑↓ show what each of them does."
    many = "" if session.task_picks_one else " each that is right"
    if session.answered is None:
        return f"{_shown(session)}↑↓ go from one to the next, Enter or its number chooses{many}; c has it marked."
    numbers = [str(number) for number, option in enumerate(session.options, 1) if option.chosen]
    chosen = f"Chosen: {' and '.join(numbers)}. {_marked(session)}"
    other = "choose another" if session.task_picks_one else "choose, or not after all"
    return f"{_passed_before(session)}{chosen}c has it marked; ↑↓ and Enter {other}; h gives a hint."


def _marked(session: Session) -> str:
    """The mark of the answer as it stands, where it has one and it did not pass."""
    attempts = session.attempts()
    if not attempts or attempts[-1].given != session.answered or attempts[-1].passed:
        return ""
    return f"Marked {out_of_100(attempts[-1].total)} of 100: not passed yet. "


def sign_said(row: SignRow) -> str:
    """What a sign shows that was looked for."""
    return f"{row.number} {row.words}: {row.shows} Off by {row.figure}."


def diagnosing_words(session: Session, chosen: str) -> str:
    """What to do in a task that shows folds: what the chosen sign shows, or how to look for signs and name a cause."""
    if right(session, session.answered):
        return _done(session)
    row = next((row for row in session.signs if row.name == chosen), None)
    if row is not None and row.asked:
        return f"{_passed_before(session)}{sign_said(row)}"
    before, named = _passed_before(session), [option for option in session.options if option.chosen]
    if row is not None:
        return f"{before}What do the folds come of? Enter looks for this sign; ↓ goes on, to the causes below."
    if not named:
        return f"{before}Enter names this cause; above are the signs. Name one when the signs leave no other."
    return f"{before}Named: {named[0].words}. c has it marked; ↑ goes back to the signs; h gives a hint."


def seeking_guide(session: Session, seeking: Seeking, unit: Unit) -> str:
    """What to do in a task that asks for a place."""
    shown = session.shown_place
    here = shown is not None and abs(seeking.track.edge.way(shown, seeking.marker.along)) < SAME_PLACE
    if here and right(session, session.answered):
        return _done(session)
    where = (_marked(session) if here else _shown(session)) + seeking_words(seeking, unit)
    how = "Arrows walk it, Tab: next mark or corner; Enter has it marked."
    return f"{_passed_before(session)}{where} {how} n: {onward(session)}."


def _empty(session: Session) -> str:
    ways = []
    if session.may_use("slashes"):
        ways.append("s starts a slash, a line to cut along from edge to edge")
    if session.may_use("set-back"):
        ways.append("l lifts the cap off first")
    if session.amounts:
        ways.append("+ changes the chosen amount, ↑↓ choose another")
    return f"To begin: {'; '.join(ways)}."


def _how_to_open(session: Session, line: PlanLine | None) -> str:
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
    if line.kind is Kind.AMOUNT:
        return f"{line.words}: {line_amount(line, unit)}. + and - change it, Enter types it."
    asked = f"is {line_amount(line, unit)}" if line.amount is not None else "is not asked to open"
    return f"{line.slash} {line.words} {asked}. + and - change it, Enter types it."


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".") + "."
