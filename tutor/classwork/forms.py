"""Empty answer forms: a TOML file for each learner, and a CSV file with a row for each."""

from __future__ import annotations

import textwrap

from tutor.classwork.csv_table import written_table
from tutor.classwork.homework import Homework, Question
from tutor.classwork.learner import Learner
from tutor.classwork.register import Register
from tutor.lesson.task import ChoiceTask, DiagnoseTask, PlanTask, Task

WIDTH = 96
NUMBER = "Write the figure with its unit, or other words if those are asked for."
PATTERN = 'Give one: a plan file beside this one, plan = "{file}-{n}.toml"; the altered pattern drawn, pattern ='
REST = '"{file}-{n}.svg"; or points traced along its lines, points = "{file}-{n}.csv".'


_HOW: dict[type[Task], str] = {
    ChoiceTask: "Write the letter of what you choose; where more than one is right, all letters: b, d.",
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
    return textwrap.wrap(" ".join(text.split()), WIDTH, initial_indent="# ", subsequent_indent="# ")


def form_table(homework: Homework, register: Register, sign: str) -> str:
    """The forms of the whole class as one CSV file."""
    numbers = [str(question.number) for question in homework.questions]
    head = ["learner", "variant", "units", "handed-in", *numbers]
    empty = ["", *("" for _ in numbers)]
    rows = [[each.name, each.deal, each.unit.value, *empty] for each in register.learners]
    return written_table([head, *rows], sign)
