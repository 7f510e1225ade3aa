"""Empty answer forms: a TOML file for each learner, and a CSV file with a row for each."""

from __future__ import annotations

import textwrap

from tutor.classwork.class_list import NAMES, column_of
from tutor.classwork.csv_table import read_table, safe_cell, with_rows, written_table
from tutor.classwork.homework import Homework, Question
from tutor.classwork.learner import Learner, key_of
from tutor.classwork.register import Register
from tutor.faults import Fault
from tutor.lesson.task import ChoiceTask, DiagnoseTask, PlaceTask, PlanTask, Task

WIDTH = 96
HEAD = ("learner", "variant", "units", "handed-in")
NUMBER = "Write the figure with its unit, or other words if those are asked for."
PATTERN = 'Give one: a plan file beside this one, plan = "{file}-{n}.toml"; the altered pattern drawn, pattern ='
REST = '"{file}-{n}.svg"; or points traced along its lines, points = "{file}-{n}.csv".'


_HOW: dict[type[Task], str] = {
    ChoiceTask: "Write the letter of what you choose; where more than one is right, all letters: b, d.",
    PlaceTask: (
        "Write how far along which seam, 6 cm along cap-back; or how far across from the grain, below 0 to the back,"
        " and how far above the bicep line, point -3 cm, 5 cm."
    ),
    DiagnoseTask: "Write the letter of the cause and the numbers of the signs that prove it: b by 1, 4.",
}


def quoted(text: str) -> str:
    """A text as a basic string of TOML 1.0."""
    signs = {'"': '\\"', "\\": "\\\\"}
    return '"' + "".join(signs.get(s, s if s.isprintable() else f"\\U{ord(s):08x}") for s in text) + '"'


def form(homework: Homework, learner: Learner, asks: dict[int, str]) -> str:
    """A learner's empty form; ``asks`` has the text of each question."""
    lines = [
        *_comment(f"{learner.name}: fill in what stands between the quotes, save the file, and hand it in."),
        *(_comment(f"Due on {homework.text.due.isoformat()}.") if homework.text.due else []),
        f"homework = {quoted(homework.title)}",
        f"learner = {quoted(learner.name)}",
        f"variant = {quoted(learner.deal)}",
        f'units = "{learner.unit.value}"',
    ]
    for question in homework.questions:
        lines += ["", *_answer(question, learner, asks[question.number])]
    return "\n".join(lines) + "\n"


def _answer(question: Question, learner: Learner, ask: str) -> list[str]:
    head = _comment(f"Task {question.number}. {question.title}") + _comment(ask)
    start = ["[[answers]]", f"task = {question.number}"]
    if not isinstance(question.task, PlanTask):
        return [*head, *_comment(_HOW.get(type(question.task), NUMBER)), *start, 'answer = ""']
    how = f"{PATTERN} {REST}".format(file=learner.file, n=question.number)
    return [*head, *_comment(how), *start, 'plan = ""', 'pattern = ""', 'points = ""']


def _comment(text: str) -> list[str]:
    line = " ".join(text.split())
    return textwrap.wrap(line, WIDTH, initial_indent="# ", subsequent_indent="# ", break_on_hyphens=False)


def form_table(homework: Homework, register: Register, sign: str) -> str:
    """The forms of the whole class as one CSV file."""
    head = [*HEAD, *(str(question.number) for question in homework.questions)]
    rows = [[_cells(each).get(name, "") for name in head] for each in register.learners]
    return written_table([head, *rows], sign)


def form_table_with(content: bytes, homework: Homework, register: Register, where: str) -> bytes:
    """A form of the whole class that was filled in, with a row after the others for each learner who has none.

    Raises Fault when it is no table with a column for the learners and one for each task.
    """
    table = read_table(content, where)
    names = column_of(table, NAMES)
    there = {heading.removeprefix("task ") for heading in table.headings}
    missing = [str(question.number) for question in homework.questions if str(question.number) not in there]
    if missing:
        raise Fault(where, f"has no column called {missing[0]}", "write that heading, or give --force to write it anew")
    known = {key_of(row.cells[names]) for row in table.rows}
    new = [each for each in register.learners if not known & {key_of(each.name), key_of(str(safe_cell(each.name)))}]
    cells = [_cells(each) | {names: each.name} for each in new]
    longer = with_rows(content, [[each.get(heading, "") for heading in table.headings] for each in cells])
    if len(read_table(longer, where).rows) != len(table.rows) + len(new):
        raise Fault(where, "is no table that a row can be added to", "look for a quote that is not closed")
    return longer


def _cells(learner: Learner) -> dict[str, str]:
    """What stands in a learner's row before it is filled in."""
    return {"learner": learner.name, "variant": learner.deal, "units": learner.unit.value}
