"""What a number task asks for, in words, and its right figure as a sentence."""

from __future__ import annotations

from tutor.lesson.task import NumberTask
from tutor.marking.figures import shown
from tutor.pattern.measures import words_for
from tutor.units import Unit


def asked_words(task: NumberTask) -> str:
    """What is asked for, as the name of a figure: "cap height", "change of the cap seam"."""
    words = words_for(task.measure)
    if task.edge == "cut" and task.asks == "change" and not task.after:
        return f"{words}, cut edge less seam"
    if task.edge == "cut":
        words = f"{words} at the cut edge"
    if task.wanted is not None:
        return f"change wanted of the {words}" if task.asks == "change" else f"{words} wanted"
    return f"change of the {words}" if task.asks == "change" else words


def figure_words(task: NumberTask, figure: float, unit: Unit) -> str:
    """The figure that a number task asks for, as a sentence: "The cap seam grows by 2.2 cm."."""
    words, size = words_for(task.measure), shown(task.measure, abs(figure), unit)
    at_edge = task.edge == "cut"
    if task.asks == "value":
        verb = "should be" if task.wanted is not None else "is"
        return f"The {words}{' at the cut edge' if at_edge else ''} {verb} {shown(task.measure, figure, unit)}."
    if size == shown(task.measure, 0.0, unit):
        return f"The {words} stays as it is."
    if at_edge and not task.after:
        return f"The {words} is {size} {'more' if figure > 0 else 'less'} at the cut edge than at the seam line."
    up, down = ("rise", "fall") if task.measure == "cap-height" else ("grow", "shrink")
    verb = up if figure > 0 else down
    return f"The {words} {f'should {verb}' if task.wanted is not None else f'{verb}s'} by {size}."
