"""A minute's walk round the line-by-line tutor."""

from __future__ import annotations

from tutor.practice.plain_talk import Talk

STOPS = (
    "The paper. figure tells how the sleeve lies, in sentences and a table; figure cap, figure slashes, figure pieces"
    " and figure armholes tell more of it. walk walks the cap along the armholes, from notch to notch.",
    "The tape. tape tells each measure: before, now, as the task wants it, and how far off. Whatever you change, the"
    " measures that change with it are told at once. measures tells all of them.",
    "The slash. A slash is a line to cut along: slash crown to hem, hinge at hem. places tells where one can begin and"
    " end. A hinge is an end where the paper holds; the other end is cut through.",
    "The opening. open A at crown 2 cm opens slash A there, overlap laps the paper. plan tells what you have built;"
    " move, hinge, cut and remove change it. undo takes any step back, all the way.",
    "The mark. Nothing is marked until you write check, or answer with a figure. hint gives a hint; each of the three"
    " says more. solution tells a worked solution, and the task then counts as shown.",
    "Leaving off. quit ends it at any time; what you did is kept, and next time you go on from there. progress tells"
    " how the lessons stand, help tells every command.",
)


def tour(talk: Talk, rest: str) -> list[str]:
    """Tells the walk, stop by stop."""
    lines = talk.lines("A minute's walk round the tutor:")
    for number, stop in enumerate(STOPS, 1):
        lines += talk.lines(f"{number}. {stop}")
    return lines
