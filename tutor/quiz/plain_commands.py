"""The words of the line-by-line quiz; what builds on the pattern is as in a lesson."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from tutor.faults import Fault
from tutor.lesson.task import PlaceTask
from tutor.practice import plain_amounts, plain_building
from tutor.practice import plain_signs as signs
from tutor.practice.page import Page
from tutor.practice.plain_commands import GROUPS, LONGEST_LINE, SHOW, SHOWING, Command, Used, command_for, help_lines
from tutor.practice.plain_looking import UNIT_WORDS
from tutor.practice.plain_reading import listed
from tutor.practice.plain_talk import Talk
from tutor.quiz import plain_text as text
from tutor.quiz.sitting import Sitting
from tutor.units import Unit

NOT_HERE = {"hint": "there are no hints in a quiz", "solution": "there are no worked solutions in a quiz"}
SIGN = "sign"
ANYWAY = "anyway"
LOOKING = frozenset({"plan", "tape", "places", "figure", "walk", "measures", "words"})
_BUILT_BY = frozenset({plain_amounts.__name__, plain_building.__name__})
_ANEW = frozenset({"start", "again"})
"""Words of a lesson that begin another one."""


def is_building(command: Command) -> bool:
    """Whether a word of a lesson is one of a quiz as well, where something is to be built."""
    return command.run.__module__ in _BUILT_BY and command.word not in _ANEW


@dataclass(slots=True)
class QuizTalk:
    """A quiz being talked through; ``leaving`` once it is handed in, or left for now.

    With ``asks`` somebody sits there who can be asked whether it is to be handed in with questions unanswered;
    ``ending`` once they were.
    """

    sitting: Sitting
    page: Page
    leaving: bool = False
    asks: bool = False
    ending: bool = False
    _talks: dict[int, Talk] = field(default_factory=dict)

    def lines(self, *texts: str) -> list[str]:
        return [line for each in texts for line in self.page.wrapped(each)]

    @property
    def talk(self) -> Talk:
        """The talk about the pattern of the question at hand."""
        number = self.sitting.number
        if number not in self._talks:
            self._talks[number] = Talk(self.sitting.asked.session, self.page)
        return self._talks[number]


Run = Callable[[QuizTalk, str], list[str]]


@dataclass(frozen=True, slots=True)
class Word:
    """One word that begins a line: how it is used, what it does, and the function that does it."""

    word: str
    use: str
    does: str
    run: Run


def obey(talk: QuizTalk, line: str) -> list[str]:
    """Does what a line asks for and answers in lines. Raises Fault, at no cost, for a line that can't be read."""
    words = " ".join(line.split())
    first, _, rest = words.partition(" ")
    bare = first.casefold().rstrip(":,.")
    word = _BY_WORD.get(bare)
    if word is None or word.run is not _finish:
        talk.ending = False
    if not words or words.startswith("#"):
        return []
    if len(words) > LONGEST_LINE:
        raise Fault("", "the line is too long to be read", "write one command a line")
    if word is not None:
        return word.run(talk, rest.strip())
    if bare in NOT_HERE:
        raise Fault("", NOT_HERE[bare], "next goes on to another question")
    asked = talk.sitting.asked
    command = command_for(first)
    if isinstance(asked.session.task, PlaceTask) and bare == SHOW:
        return _answer(talk, rest.strip())
    if command is not None and command.word in LOOKING:
        return command.run(talk.talk, rest.strip())
    if command is not None and is_building(command) and asked.is_built:
        talk.sitting.check_open()
        return command.run(talk.talk, rest.strip())
    if asked.session.signs and ((command is not None and command.word == SIGN) or signs.are_numbers(words)):
        talk.sitting.check_open()
        return signs.sign(talk.talk, words if signs.are_numbers(words) else rest.strip())
    if not asked.is_built and (asked.options or any(letter.isnumeric() for letter in words)):
        # Where an answer is asked for, an answer alone will do.
        return _answer(talk, words)
    raise Fault("", f'"{first[:40]}" is no command', "help lists them all")


def _answer(talk: QuizTalk, rest: str) -> list[str]:
    asked = talk.sitting.asked
    if asked.is_built:
        raise Fault("answer", "this question asks for no words", "build it; help lists the commands")
    talk.sitting.give(rest)
    if asked.answer is None:
        return talk.lines(f"Question {talk.sitting.number} has no answer yet: name the cause by its letter.")
    onward = talk.sitting.next_open()
    said = f"Your answer to question {talk.sitting.number} is {asked.answer}."
    if onward is None:
        return talk.lines(f"{said} Every question has an answer: finish hands in.")
    return talk.lines(f"{said} next goes on.")


def _next(talk: QuizTalk, rest: str) -> list[str]:
    if not talk.sitting.step(1):
        onward = talk.sitting.next_open()
        still = "finish hands in" if onward is None else f"question {onward} has no answer yet; finish hands in"
        return talk.lines(f"This was the last question. {still[0].upper()}{still[1:]}.")
    return ["", *text.question_lines(talk.sitting, talk.page)]


def _back(talk: QuizTalk, rest: str) -> list[str]:
    if not talk.sitting.step(-1):
        return talk.lines("This is the first question.")
    return ["", *text.question_lines(talk.sitting, talk.page)]


def _question(talk: QuizTalk, rest: str) -> list[str]:
    if rest:
        if not rest.isdecimal() or len(rest) > 4:
            raise Fault("question", f'"{rest[:40]}" is no number of a question', "write such as question 3")
        talk.sitting.go_to(int(rest))
    return ["", *text.question_lines(talk.sitting, talk.page)]


def _list(talk: QuizTalk, rest: str) -> list[str]:
    return text.list_lines(talk.sitting, talk.page)


def _mark(talk: QuizTalk, rest: str) -> list[str]:
    return talk.lines(*text.marked_text(talk.sitting.mark_now()))


def _time(talk: QuizTalk, rest: str) -> list[str]:
    return talk.lines(text.time_left(talk.sitting))


def _units(talk: QuizTalk, rest: str) -> list[str]:
    known = {"cm": Unit.CM, "in": Unit.INCH, "inch": Unit.INCH, "inches": Unit.INCH, "mm": Unit.MM}
    unit = known.get(rest.casefold())
    if unit is None:
        raise Fault("units", f'"{rest[:40]}" is no unit known here', "write units cm, units in or units mm")
    talk.sitting.unit = unit
    return [*talk.lines(f"Lengths are in {UNIT_WORDS[unit]} now."), *text.question_lines(talk.sitting, talk.page)]


def _finish(talk: QuizTalk, rest: str) -> list[str]:
    sitting = talk.sitting
    unanswered = [str(number) for number in sitting.numbers if sitting.standing(number) == "open"]
    if unanswered and talk.asks and not talk.ending and rest.casefold() != ANYWAY:
        talk.ending = True
        still = f"Question {unanswered[0]} has" if len(unanswered) == 1 else f"Questions {listed(unanswered)} have"
        return talk.lines(f"{still} no answer yet. finish once more hands in all the same; anything else goes on.")
    talk.sitting.hand_in()
    talk.leaving = True
    return []


def _quit(talk: QuizTalk, rest: str) -> list[str]:
    talk.leaving = True
    return []


def _help(talk: QuizTalk, rest: str) -> list[str]:
    groups = _groups(talk)
    if not rest:
        return help_lines(groups, talk.page)
    first = rest.split()[0].casefold()
    found = [f"{each.use}: {each.does}" for _, uses in groups for each in uses if each.use.split()[0] == first]
    if not found:
        raise Fault("help", f'"{rest[:40]}" is no command', "help alone lists them all")
    return [line for each in found for line in talk.page.wrapped(each, "", "    ")]


def _groups(talk: QuizTalk) -> list[tuple[str, Sequence[Used]]]:
    """What can be typed at the question at hand: words of the quiz, and of a lesson what looks at it and builds."""
    groups: list[tuple[str, Sequence[Used]]] = [("In every question", WORDS)]
    asked = talk.sitting.asked
    if isinstance(asked.session.task, PlaceTask):
        groups.append(("To show a place", SHOWING))
    for heading, commands in GROUPS:
        here = [
            each
            for each in commands
            if (asked.is_built and (is_building(each) or each.word in LOOKING))
            or (asked.session.signs and each.word == SIGN)
        ]
        groups += [(heading, here)] if here else []
    return groups


WORDS = (
    Word("answer", "answer B, answer 12.5 cm", "answer the question; the answer alone will do", _answer),
    Word("next", "next", "go on to the next question, answered or not", _next),
    Word("back", "back", "go back to the question before", _back),
    Word("question", "question 3", "go to a question; question alone tells this one again", _question),
    Word("list", "list", "all questions, and which are answered", _list),
    Word("mark", "mark", "mark this question now, which settles it", _mark),
    Word("time", "time", "how much time is left", _time),
    Word("units", "units cm", "centimetres, in for inches, or mm", _units),
    Word(
        "finish",
        "finish",
        "hand the quiz in and see the marks; finish anyway: without being asked about open questions",
        _finish,
    ),
    Word("quit", "quit", "leave it for now; it goes on where it is left", _quit),
    Word("help", "help", "these commands; help COMMAND: that one", _help),
)

_OTHER_WORDS = {
    "previous": "back",
    "questions": "list",
    "ask": "question",
    "brief": "question",
    "task": "question",
    "check": "mark",
    "hand": "finish",
    "clock": "time",
    "exit": "quit",
    "bye": "quit",
    "?": "help",
    "unit": "units",
}
_BY_WORD = {word.word: word for word in WORDS}
_BY_WORD |= {other: _BY_WORD[word] for other, word in _OTHER_WORDS.items()}
