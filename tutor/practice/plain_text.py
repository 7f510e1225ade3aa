"""What the line-by-line tutor prints: the tape as a table, what has changed, and marks."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.marking.figures import bounds, shown
from tutor.marking.marked import GoalMark, Marked, Part
from tutor.marking.points import needed_of_100, out_of_100
from tutor.practice.page import Page, Row
from tutor.practice.tape import MET, TapeRow
from tutor.units import Unit


def tape_lines(rows: Sequence[TapeRow], unit: Unit, page: Page, lies: str = "now") -> list[str]:
    """The tape as a table: measure, before, now, wanted, how far off.

    Where nothing is wanted there is nothing to be off, and where nothing has changed besides, before is as now: one
    column tells it, which ``lies`` heads.
    """
    if not rows:
        return []
    wanted = any(row.wanted for row in rows)
    if not wanted and all(row.now == row.before for row in rows):
        return page.table([("measure", lies), *((row.words, shown(row.measure, row.before, unit)) for row in rows)])
    cells = [_tape_cells(row, unit) for row in rows]
    heads = ["measure", "before", "now", "off by", "wanted"]
    told = len(heads) if wanted else heads.index("off by")
    return page.table([each[:told] for each in (heads, *cells)], in_words=_tape_in_words)


def _tape_cells(row: TapeRow, unit: Unit) -> list[str]:
    now = "-" if row.now is None else shown(row.measure, row.now, unit)
    off = ""
    if row.off is not None:
        off = MET if row.met else shown(row.measure, row.off, unit, signed=True)
    return [row.words, shown(row.measure, row.before, unit), now, off, row.wanted or ""]


def _tape_in_words(heads: Row, row: Row) -> str:
    """A row of the tape as a sentence: what it was and is, and, where something is wanted, whether it is met."""
    words, before, now, *more = row
    figures = f"{words}: before {before}, now {now}"
    off, wanted = more or ("", "")
    if not wanted:
        return figures
    return f"{figures}; wanted {wanted}, {off if off == MET else f'off by {off}' if off else 'not to be told'}"


def changed_line(changed: Sequence[TapeRow], rows: Sequence[TapeRow], unit: Unit) -> str:
    """The measures ``changed`` just now, in one sentence: "Now: bicep girth 36.0 cm (+3.0 cm, wanted 36.0 cm); ...".

    The change is that since the task began, of which ``rows`` tell whether there is any.
    """
    if not any(_change(row, unit) for row in rows):
        return "All measures are as they were when the task began."
    said = []
    for row in changed:
        if row.now is not None:
            wanted = f", wanted {row.wanted}" if row.wanted else ""
            change = _change(row, unit) or ("as it was" if _shows_as_before(row, unit) else "hardly changed")
            said.append(f"{row.words} {shown(row.measure, row.now, unit)} ({change}{wanted})")
    return f"Now: {'; '.join(said)}." if said else "No measure changes by this."


def _shows_as_before(row: TapeRow, unit: Unit) -> bool:
    return row.now is not None and shown(row.measure, row.now, unit) == shown(row.measure, row.before, unit)


def _change(row: TapeRow, unit: Unit) -> str:
    """The change since the task began, as it is shown; "" when it shows none."""
    change = "" if row.change is None else shown(row.measure, row.change, unit, signed=True)
    return change if change.startswith(("+", "-")) else ""


def marked_lines(marked: Marked, unit: Unit, page: Page, *, as_shown: bool = False) -> list[str]:
    """A mark, goal by goal, with what it cost and what is said about it; ``as_shown`` if the task counts as shown."""
    verdict = "passed" if marked.passed else "not passed"
    if as_shown:
        verdict = "right, but the task counts as shown" if marked.passed else "not right yet"
    points, needed = out_of_100(marked.total), needed_of_100(marked.pass_mark)
    lines = page.wrapped(f"Mark: {points} of 100, {verdict} (pass mark {needed}).")
    if len(marked.goals) > 1:
        cells = [["goal", "credit", "came to", "wanted", "within"]]
        cells += [row for goal in marked.goals for row in _goal_rows(goal, unit)]
        lines += page.table(cells)
        if any(goal.must for goal in marked.goals):
            lines.append("* must be met")
    if marked.costs:
        costs = [f"{cost.words} {shown(cost.measure, cost.change, unit, signed=True)}" for cost in marked.costs]
        lines += page.wrapped(f"What it cost: {'; '.join(costs)}.")
    for sentence in (*marked.feedback, *marked.notes):
        lines += page.wrapped(sentence)
    return lines


def _goal_rows(goal: GoalMark, unit: Unit) -> list[list[str]]:
    return [_part_row(part, goal.must, unit) for part in goal.parts]


def _part_row(part: Part, must: bool, unit: Unit) -> list[str]:
    name = f"{part.words}{' *' if must else ''}"
    figures = [shown(part.measure, part.figure, unit), bounds(part.aim, unit)]
    return [name, f"{out_of_100(part.credit)}%", *figures, shown(part.measure, part.tolerance, unit)]
