"""A minute's walk round the tutor, shown once to begin with."""

from __future__ import annotations

from tutor.picture.looks import Sign
from tutor.tui.pages import Part


def tour_parts(*, ascii: bool) -> list[Part]:
    """The walk, as a page."""
    hinge, through = (sign.glyph(ascii=ascii) for sign in (Sign.HINGE, Sign.THROUGH))
    stops = [
        (
            "The paper",
            "On the left lies the pattern, in its true proportions: a sleeve, back to the left, front to the right."
            " Dashed is what it was, drawn through is what it is. y explains every mark.",
        ),
        (
            "The tape",
            "On the right stands what the task asks, and below it each measure: before, now, as wanted, how far off."
            " It follows every key.",
        ),
        (
            "The slash",
            "s starts a slash. A marker @ walks along the edge: arrows, or n from one named place to the next."
            " Enter sets where the slash starts, and again where it ends. A mouse does it too.",
        ),
        (
            "The hinge",
            f"An end of a slash is cut through {through} or left as a hinge {hinge}, which holds the paper."
            " [ turns the start of the chosen slash, ] its end.",
        ),
        (
            "The opening",
            "+ and - open the chosen slash by a millimetre, or a sixteenth of an inch; Enter lets you type an amount."
            " u takes any step back.",
        ),
        (
            "The mark",
            "Nothing is marked until you press c. h gives a hint, and ? shows every key. What you do is kept:"
            " leave with q at any time, and go on from there.",
        ),
    ]
    parts: list[Part] = []
    for heading, text in stops:
        parts += [(f"{heading}. ", "bold $strong"), (f"{text}\n", "$text")]
    return parts
