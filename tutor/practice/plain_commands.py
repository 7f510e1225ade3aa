"""The words of the line-by-line tutor: each line a command, read and done on a session, answered in lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from tutor.faults import Fault
from tutor.lesson.task import HINTS, ChoiceTask, DiagnoseTask, NumberTask, PlaceTask
from tutor.marking.marked import Marked
from tutor.practice import plain_amounts
from tutor.practice import plain_building as building
from tutor.practice import plain_figures as figures
from tutor.practice import plain_looking as looking
from tutor.practice import plain_signs as signs
from tutor.practice.finding_text import check_names_a_cause
from tutor.practice.page import Page
from tutor.practice.plain_looking import task_lines
from tutor.practice.plain_talk import Talk
from tutor.practice.plain_text import marked_lines, tape_lines
from tutor.practice.plain_tour import tour
from tutor.practice.session import Session

LONGEST_LINE = 400
SHOW = "show"


@dataclass(frozen=True, slots=True)
class Command:
    """One word that begins a line: how it is used, what it does, and the function that does it."""

    word: str
    use: str
    does: str
    run: Callable[[Talk, str], list[str]]


class Used(Protocol):
    """What is told about a command."""

    @property
    def use(self) -> str:
        """A line that begins with its word."""

    @property
    def does(self) -> str:
        """What it does."""


def obey(talk: Talk, line: str) -> list[str]:
    """Does what a line asks for and answers in lines. Raises Fault, at no cost, for a line that can't be read."""
    words = " ".join(line.split())
    if not words or words.startswith("#"):
        return []
    if len(words) > LONGEST_LINE:
        raise Fault("", "the line is too long to be read", "write one command a line")
    word, _, rest = words.partition(" ")
    command = command_for(word)
    asked = isinstance(talk.session.task, NumberTask | PlaceTask)
    if command is None and asked and any(letter.isnumeric() for letter in word):
        # Where a figure or a place is asked for, what begins with a figure is the answer.
        command, rest = _BY_WORD["answer"], words
    if isinstance(talk.session.task, PlaceTask) and word.casefold() == SHOW:
        # The task's own word for what is to be done.
        command = _BY_WORD["answer"]
    if command is None and talk.session.signs and (signs.are_numbers(words) or word.rstrip(").,").isdecimal()):
        command, rest = _BY_WORD["sign"], words
    if command is None and word.casefold().rstrip(").,") in _labels(talk.session):
        command, rest = _BY_WORD["answer"], words
    if command is None:
        raise Fault("", f'"{word[:40]}" is no command', "help lists them all")
    return command.run(talk, rest.strip())


def _labels(session: Session) -> set[str]:
    """What an option is named by: a letter, and its number too where no signs go by numbers."""
    letters = {option.letter for option in session.options}
    return letters | {option.number for option in session.options if isinstance(session.task, ChoiceTask)}


def _check(talk: Talk, rest: str) -> list[str]:
    return _marked(talk, talk.session.check())


def _answer(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    if isinstance(session.task, DiagnoseTask):
        check_names_a_cause(rest, session.options, session.signs)
    return _marked(talk, talk.session.answer(rest))


def _marked(talk: Talk, marked: Marked) -> list[str]:
    shown = talk.session.standing() == "shown"
    lines = marked_lines(marked, talk.session.unit, talk.page, as_shown=shown)
    if marked.passed:
        last = talk.session.task_number == len(talk.session.tasks)
        lines = [*lines, *talk.lines("next ends the lesson." if last else "next goes on to the next task.")]
    return lines


def _hint(talk: Talk, rest: str) -> list[str]:
    more = talk.session.hints_taken < HINTS
    text = talk.session.hint()
    lines = talk.lines(f"Hint {talk.session.hints_taken} of {HINTS}: {text}")
    return lines if more else [*lines, *talk.lines("There are no others; solution shows the worked solution.")]


def _solution(talk: Talk, rest: str) -> list[str]:
    was = talk.session.standing()
    solution, session = talk.session.solution(), talk.session
    steps = enumerate(solution.steps, 1)
    lines = [line for k, step in steps for line in talk.page.wrapped(f"{k}. {step}", "", "   ")]
    if solution.plan is not None:
        lines += ["", *tape_lines(session.tape(solution.plan), session.unit, talk.page)]
        lines += talk.lines("lay lays this on your own paper.")
    if was != "passed":
        lines += talk.lines("This task now counts as shown, not as passed.")
    return lines


def _lay(talk: Talk, rest: str) -> list[str]:
    session = talk.session
    if session.standing() not in ("shown", "passed"):
        raise Fault("lay", "no worked solution has been shown yet", "write solution first")
    plan = session.solution().plan
    if plan is None:
        raise Fault("lay", "this task's solution is a figure", "there is nothing to lay on the paper")
    session.adopt(plan)
    return talk.after_edit("The worked solution is on your own paper now; undo takes it back.")


def _next(talk: Talk, rest: str) -> list[str]:
    if talk.session.next_task():
        return ["", *task_lines(talk)]
    talk.leaving = True
    return []


def _quit(talk: Talk, rest: str) -> list[str]:
    talk.leaving = True
    return []


def _help(talk: Talk, rest: str) -> list[str]:
    if not rest:
        return help_lines(GROUPS, talk.page)
    # What is typed may be more than one word: "start over", or a whole line to be told about.
    first = rest.split()[0]
    known = command_for(first)
    if isinstance(talk.session.task, PlaceTask):
        known = next((each for each in SHOWING if each.word == first.casefold().rstrip(":,.")), known)
    if known is None:
        raise Fault("help", f'"{rest[:40]}" is no command', "help alone lists them all")
    return talk.page.wrapped(f"{known.use}: {known.does}", "", "    ")


def help_lines(groups: Sequence[tuple[str, Sequence[Used]]], page: Page) -> list[str]:
    """How commands are used and what they do, under headings."""
    lines: list[str] = []
    for heading, commands in groups:
        uses = (f"{each.use}: {each.does}" for each in commands)
        lines += ["", heading, *(line for use in uses for line in page.wrapped(use, "  ", "      "))]
    return lines[1:]


GROUPS: tuple[tuple[str, tuple[Command, ...]], ...] = (
    (
        "In every task",
        (
            Command("ask", "ask", "the task again", looking.ask),
            Command(
                "answer",
                "answer FIGURE",
                "answer a question: answer 12.5 cm, answer 2, answer b by 2 and 4, or answer 6 cm along hem",
                _answer,
            ),
            Command("check", "check", "have it marked", _check),
            Command("hint", "hint", "the next of three hints", _hint),
            Command("solution", "solution", "a worked solution; the task then counts as shown", _solution),
            Command("lay", "lay", "lay the worked solution on your own paper", _lay),
            Command("next", "next", "go on to the next task", _next),
            Command("task", "task NUMBER", "go to another task, passed or not", looking.ask),
            Command("undo", "undo", "take the last step back", building.undo),
            Command("redo", "redo", "do again what was taken back", building.redo),
            Command("quit", "quit", "end the lesson here", _quit),
            Command("help", "help", "these commands; help COMMAND: that one", _help),
        ),
    ),
    (
        "To look and measure",
        (
            Command("figure", "figure", "the figure in words: figure cap, slashes, pieces or armholes", figures.figure),
            Command("tape", "tape", "measures before, now and as wanted", looking.tape),
            Command(
                "measure",
                "measure PLACE to PLACE",
                "lay a tape measure between two places of the pattern as it lies: measure crown to back underarm",
                figures.measure,
            ),
            Command("measures", "measures", "every measure of the pattern", figures.measures),
            Command(
                "places", "places", "where slashes can run; places NAME: where that slash can be opened", looking.places
            ),
            Command("plan", "plan", "what you have built so far", looking.plan),
            Command(
                "walk",
                "walk",
                "walk the cap along the armholes from notch to notch: walk back, walk front",
                figures.walk,
            ),
            Command(
                "sign", "sign NUMBER", "look for a sign on the worn sleeve: sign 2; sign alone lists them", signs.sign
            ),
            Command("words", "words", "the words of the trade; words NAME: what one means", looking.words),
        ),
    ),
    (
        "Slashes",
        (
            Command(
                "slash",
                "slash PLACE to PLACE, hinge at PLACE, as NAME",
                "a slash; hinges and name can be left out",
                building.slash,
            ),
            Command(
                "hinge",
                "hinge NAME at PLACE",
                "leave paper holding at an end: hinge A at hem, hinge A at both ends",
                building.hinge,
            ),
            Command("cut", "cut NAME at PLACE", "cut an end of a slash through", building.cut),
            Command("open", "open NAME at PLACE AMOUNT", "open a slash there: open A at hem 3 cm", building.open_slash),
            Command("overlap", "overlap NAME at PLACE AMOUNT", "lap the paper over there", building.overlap),
            Command("close", "close NAME at PLACE", "keep a slash shut there", building.close),
            Command("free", "free NAME at PLACE", "ask nothing there any more", building.free),
            Command("move", "move NAME from PLACE to PLACE", "move one end of a slash, or both", building.move),
            Command("remove", "remove NAME", "take a slash away", building.remove),
            Command("lift", "lift", "cut the cap off along the bicep line, to be set back afterwards", building.lift),
            Command("keep", "keep", "leave the cap on after all", building.keep),
        ),
    ),
    ("Amounts that need no slash", tuple(Command(*parts) for parts in plain_amounts.commands())),
    (
        "Fresh starts",
        (
            Command("clear", "clear", "fresh paper for this task", building.clear),
            Command("again", "again", "practise this task again on another arm and block", building.another),
            Command(
                "start",
                "start over",
                "begin the whole lesson anew; start over as written leaves a variant",
                building.start,
            ),
        ),
    ),
    (
        "The lesson and the tutor",
        (
            Command("brief", "brief", "the lesson from its beginning", looking.brief),
            Command("progress", "progress", "how the tasks and the lessons stand", looking.progress),
            Command("tour", "tour", "a minute's walk round the tutor", tour),
            Command("units", "units cm", "centimetres, in for inches, or mm", looking.units),
            Command(
                "write",
                "write FILE",
                "write your pattern to a file, to scale, to be printed: write sleeve.svg; write over FILE replaces one",
                looking.write,
            ),
        ),
    ),
)
"""All commands under short headings, those that are needed most before the others."""
COMMANDS = tuple(command for _, group in GROUPS for command in group)


SHOWING = (
    Command(SHOW, "show PLACE", "answer with a place, as answer does: show 6 cm along hem", _answer),
    Command("places", "places", "the edge clockwise: its seams with their ends, and what lies on them", looking.places),
)
"""What these two words do where a place is asked for."""


_OTHER_WORDS = {
    "slashes": "plan",
    "landmarks": "places",
    "picture": "figure",
    "describe": "figure",
    "figures": "figure",
    "mark": "check",
    "hints": "hint",
    SHOW: "plan",
    "lap": "overlap",
    "exit": "quit",
    "bye": "quit",
    "?": "help",
    "unit": "units",
    "word": "words",
    "glossary": "words",
    "delete": "remove",
    "shut": "close",
    "choose": "answer",
    "name": "answer",
    "signs": "sign",
    "folds": "figure",
}
_BY_WORD = {command.word: command for command in COMMANDS}
_BY_WORD |= {other: _BY_WORD[word] for other, word in _OTHER_WORDS.items()}


def command_for(word: str) -> Command | None:
    """The command that a word begins, None where it begins none."""
    return _BY_WORD.get(word.casefold().rstrip(":,."))
