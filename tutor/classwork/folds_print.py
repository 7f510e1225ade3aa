"""A sleeve with its folds as a small figure beside a question, and the signs and causes that go with it in words."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from tutor.classwork.canvas import FINE, FOLD, HELP, SEAM, Item, Stroke, Words, box_of, line
from tutor.classwork.question_pages import SMALL, Blank, Figure, Flow, Paragraph
from tutor.pattern.sleeve import level_of
from tutor.practice.session import Session

SCALE = 1 / 6
FIGURE = "The sleeve laid flat, a sixth of its size, with the folds that were seen on it."
SIGNS = "What the signs show:"
CAUSES = "What can be the cause:"
HOW = "Name the cause by its letter, and by their numbers the signs that prove it: no other cause may show both."


def diagnosis_flow(session: Session) -> Iterator[Flow]:
    """What a question that shows folds needs besides its text: the figure, all signs, the causes, and blanks."""
    yield folds_figure(session)
    yield Paragraph(FIGURE, SMALL)
    yield Paragraph(SIGNS, SMALL, keep=20.0)
    for row in session.signs:
        shown = session.sign_seen(row.name)
        yield Paragraph(f"{row.number}. {row.words}. {shown.shows} Off by {shown.figure}.", before=0.6)
    yield Paragraph(CAUSES, SMALL, keep=20.0)
    yield from options_flow(session)
    yield Paragraph(HOW, SMALL)
    yield Blank("Cause:")
    yield Blank("Signs that prove it:")


def options_flow(session: Session) -> Iterator[Flow]:
    """What there is to choose among, each under its letter."""
    for option in session.options:
        yield Paragraph(f"{option.letter}) {option.words}", before=0.6)


def folds_figure(session: Session) -> Figure:
    """The outline of the sleeve, its bicep and elbow lines, and its folds, moved to lie right and below of nought."""
    items = [item.placed(SCALE, 0j) for item in _items(session)]
    box = box_of(items)
    return Figure(tuple(item.placed(1.0, -box.low) for item in items), box.height)


def _items(session: Session) -> Iterator[Item]:
    sleeve = session.pattern.sleeve
    back, front = sleeve.underarm_point_back.conjugate(), sleeve.underarm_point_front.conjugate()
    yield Stroke(np.conj(sleeve.rows()), SEAM)
    yield line(back, front, style=HELP)
    level = level_of(sleeve, "elbow")
    if level is not None:
        ends = [sleeve.mark_point(mark).conjugate() for mark in sleeve.marks if mark.name.startswith("elbow-")]
        yield line(*ends, style=HELP)
    for mark in sleeve.notches:
        point = sleeve.mark_point(mark)
        yield line(point.conjugate(), (point + 18j * sleeve.seam(mark.seam).tangent(mark.u)).conjugate(), style=FINE)
    for fold in session.folds:
        yield line(*np.conj(fold.line).tolist(), style=FOLD)
    # Words keep their size when they are placed.
    yield Words(back + complex(-6, 0), "back", 2.8, "end")
    yield Words(front + complex(6, 0), "front", 2.8)
