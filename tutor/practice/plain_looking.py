"""What is said about the lesson, the task, the paper and the work so far."""

from __future__ import annotations

from tutor.alteration.plan import Answer
from tutor.alteration.refusal import Refusal
from tutor.faults import Fault
from tutor.lesson.task import NumberTask
from tutor.practice.editing import slash_named
from tutor.practice.place_text import LANDMARK_WORDS, SEAM_WORDS
from tutor.practice.plain_reading import listed
from tutor.practice.plain_talk import Talk, refused
from tutor.practice.plain_text import tape_lines
from tutor.practice.steps import answer_words, opening_words, slash_words
from tutor.units import Unit, format_length

UNIT_WORDS = {Unit.CM: "centimetres", Unit.INCH: "inches", Unit.MM: "millimetres"}


def opening_lines(talk: Talk) -> list[str]:
    """What is said when a lesson opens: its title, brief and cautions, and the first task."""
    session = talk.session
    title = f"Lesson {session.lesson.number}: {session.lesson.title}"
    lines = [title, "=" * len(title)]
    for paragraph in session.brief:
        lines += ["", *talk.lines(paragraph)]
    for caution in session.cautions:
        lines += ["", *talk.lines(f"Caution: {caution}")]
    return [*lines, "", *task_lines(talk)]


def task_lines(talk: Talk) -> list[str]:
    """What is said when a task begins."""
    session = talk.session
    lines = talk.lines(f"Task {session.task_number} of {len(session.tasks)}: {session.task.title}", session.ask)
    lines += ["", *tape_lines(session.tape(), session.unit, talk.width), ""]
    if isinstance(session.task, NumberTask):
        said = "Type answer and the figure. help lists all commands."
    elif session.may_use("slashes"):
        said = "Type places for the places a slash can run between. help lists all commands."
    else:
        said = "Type widen or lower, back or front, and the amount. help lists all commands."
    return [*lines, *talk.lines(said)]


def built(talk: Talk) -> list[str]:
    """What has been built so far, a sentence each."""
    session, draft = talk.session, talk.session.draft
    said = ["The cap is lifted off along the bicep line."] if draft.set_back else []
    for slash in draft.slashes:
        said.append(f"Slash {slash_words(slash, session.unit)}.")
        said += [
            f"{slash.name}, {station.words}: {opening_words(station.amount, session.unit)}."
            for station in session.stations(slash.name)
            if station.amount is not None
        ]
    for side, answer in (("back", draft.back), ("front", draft.front)):
        if answer != Answer():
            said.append(f"On the {side} bodice {answer_words(answer, session.unit)}.")
    return said or ["The paper is as it was."]


def where_to_open(talk: Talk, name: str) -> list[str]:
    stations = talk.session.stations(name)
    if not stations:
        return []
    return [f"It can be opened {listed(station.words for station in stations)}."]


def plan(talk: Talk, rest: str) -> list[str]:
    return talk.lines(*built(talk))


def tape(talk: Talk, rest: str) -> list[str]:
    found = talk.session.preview()
    lines = tape_lines(talk.session.tape(), talk.session.unit, talk.width)
    return [*lines, *talk.lines(refused(found))] if isinstance(found, Refusal) else lines


def places(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    if rest:
        slash = slash_named(session.draft, rest.removeprefix("on "))
        return talk.lines(*(where_to_open(talk, slash.name) or [f"{slash.name} can't be opened: both its ends hold."]))
    names = [f"{name} ({LANDMARK_WORDS[name]})" if name in LANDMARK_WORDS else name for name in session.landmarks]
    outline = session.outline
    seams = [
        f"{name} ({SEAM_WORDS[name]}, {format_length(curve.length(), session.unit)})"
        for name, curve in zip(outline.names, outline.curves, strict=True)
    ]
    first = outline.names[0]
    example = f"{format_length(60, session.unit)} along {first}, half way along hem, or point -3 cm, 5 cm"
    return talk.lines(
        f"Landmarks: {', '.join(names)}.",
        f"Seams: {', '.join(seams)}.",
        f"A slash can also begin and end at such as {example} (from where grain and bicep line cross, + to the front"
        " and up), or half way along another slash.",
    )


def ask(talk: Talk, rest: str) -> list[str]:
    return task_lines(talk)


def brief(talk: Talk, rest: str) -> list[str]:
    return opening_lines(talk)


def units(talk: Talk, rest: str) -> list[str]:
    known = {"cm": Unit.CM, "in": Unit.INCH, "inch": Unit.INCH, "inches": Unit.INCH, "mm": Unit.MM}
    unit = known.get(rest.casefold())
    if unit is None:
        raise Fault("units", f'"{rest[:40]}" is no unit known here', "write units cm, units in or units mm")
    talk.session.unit = unit
    return [*talk.lines(f"Lengths are in {UNIT_WORDS[unit]} now."), *tape_lines(talk.session.tape(), unit, talk.width)]
