"""Pages about a pattern: what the marks in the picture mean, the mark that was given, all measures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tutor.marking.figures import bounds, shown
from tutor.marking.marked import Cost, GoalMark, Marked
from tutor.marking.points import needed_of_100, out_of_100
from tutor.pattern.measures import words_for
from tutor.picture.looks import Look, legend
from tutor.picture.scene import Scene
from tutor.practice.tape import TapeRow
from tutor.tui.pages import Part
from tutor.tui.tape_lines import tape_lines
from tutor.units import Unit


def explained(scene: Scene, *, ascii: bool) -> list[tuple[str, str]]:
    """The legend of a scene; while nothing is altered there is no after, and the outline is the seam line."""
    roles = scene.roles()
    rows = legend(roles, ascii=ascii)
    if roles & {Look.BEFORE, Look.GAP, Look.OVERLAP}:
        return rows
    return [(sample, "seam line" if words == Look.AFTER.value else words) for sample, words in rows]


def legend_parts(scene: Scene, *, ascii: bool) -> list[Part]:
    """What the lines, areas and signs in the picture mean."""
    rows = explained(scene, ascii=ascii)
    wide = max((len(sample) for sample, _ in rows), default=0)
    parts: list[Part] = []
    for sample, words in rows:
        parts += [(f"  {sample.ljust(wide)}  ", "bold $text"), (f"{words}\n", "$text")]
    return parts


def marked_parts(
    marked: Marked, unit: Unit, notes: Sequence[str] = (), *, secret: bool = False, shown: bool = False
) -> list[Part]:
    """A mark: passed or not, what to do next, every goal with its figure and what was wanted, and what it cost.

    With ``secret`` what was wanted is kept back: it is the answer. With ``shown`` the task counts as shown, whatever
    the mark.
    """
    score = f"{out_of_100(marked.total)} of 100, {needed_of_100(marked.pass_mark)} needed"
    verdict = "Passed" if marked.passed else "Not passed yet"
    if shown:
        verdict = "Right" if marked.passed else "Not right yet"
        score = f"{out_of_100(marked.total)} of 100, but it counts as shown" if marked.passed else score
    style = "bold $good" if marked.passed else "bold $bad"
    parts: list[Part] = [(f"{verdict}: {score}\n", style)]
    if marked.feedback:
        parts.append(("\n" + "\n".join(marked.feedback) + "\n", "$text"))
    if marked.goals and not secret:
        parts.append(("\nGoals", "bold $strong"))
        parts.append((" (* must be met)\n" if any(goal.must for goal in marked.goals) else "\n", "$quiet"))
        for goal in marked.goals:
            parts += _goal(goal, unit)
    if marked.costs:
        parts.append(("\nWhat it cost besides\n", "bold $strong"))
        parts += [(_cost(cost, unit), "$text") for cost in marked.costs]
    if notes:
        parts.append(("\n" + "\n".join(notes) + "\n", "$text"))
    return parts


def _goal(goal: GoalMark, unit: Unit) -> list[Part]:
    """A line for each part of a goal: met or not, its figure, what was wanted, the credit."""
    parts: list[Part] = []
    for part in goal.parts:
        sign = "met " if part.met else "MISS" if part.credit <= 0 else "near"
        figure, wanted = shown(part.measure, part.figure, unit), bounds(part.aim, unit)
        within = shown(part.measure, part.tolerance, unit)
        needed = "*" if goal.must else ""
        parts += [
            (f"{sign} {out_of_100(part.credit):3}%  ", "bold $good" if part.met else "bold $bad"),
            (f"{part.words} {figure}", "$text"),
            (f"; wanted {wanted} ±{within}{needed}\n", "$quiet"),
        ]
    return parts


def _cost(cost: Cost, unit: Unit) -> str:
    before, after = (shown(cost.measure, figure, unit) for figure in (cost.before, cost.after))
    change = shown(cost.measure, cost.change, unit, signed=True)
    return f"{cost.words}: {before}, now {after} ({change})\n"


def measures_parts(
    rows: Sequence[TapeRow], areas: Mapping[str, float], unit: Unit, width: int, lies: str, *, ascii: bool
) -> list[Part]:
    """All measures as on the tape, in so many columns; below them ``areas`` by measure, which no tape is laid along."""
    lines = tape_lines(rows, unit, width, ascii=ascii, lies=lies, close=True)
    parts = [(f"{line.rstrip()}\n", style) for line, style in lines]
    if areas:
        told = ", ".join(f"{words_for(name)} {shown(name, area, unit)}" for name, area in areas.items())
        parts.append((f"\n{told}\n", "$quiet"))
    return parts
