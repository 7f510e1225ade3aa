"""Quizzes drawn by the thousand, and what is wrong with any of them.

    python tests/quizzes_drawn.py [QUIZZES [QUESTIONS [LESSON...]]]
    python tests/quizzes_drawn.py all [QUIZZES [QUESTIONS [LESSON...]]]
    python tests/quizzes_drawn.py bytes [QUIZZES]

Of every quiz it is looked whether a question comes twice, whether lessons and demands are balanced, and how difficult
its questions are beside the lessons as written. Every question is looked at once, however often it is drawn: whether
its key passes in centimetres and in inches, every other option fails, and no two options lie within the tolerance of
each other. With ``all`` every question that can be drawn is made and looked at first, on two processors, and then the
quizzes are drawn from them. With ``bytes`` the quizzes are printed as they are stored, to be compared between machines
and releases of Python.
"""

from __future__ import annotations

import itertools
import math
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import cache

from lessons_for_tests import own_lessons

from tutor.lesson.lesson import Lesson
from tutor.lesson.task import NumberTask
from tutor.quiz import drawing, making
from tutor.quiz.asked import LETTERS, Asked
from tutor.quiz.asking import ask
from tutor.quiz.chosen import Chosen
from tutor.quiz.drawing import BAND, BODIES, draw_quiz
from tutor.quiz.forms import Asking, askings
from tutor.quiz.making import is_offered
from tutor.quiz.question import Question
from tutor.quiz.quiz import Quiz, quiz_from
from tutor.quiz.spec import QuizSpec
from tutor.units import Unit

UNITS = (Unit.CM, Unit.INCH)
HALF_DIVISION = {Unit.CM: 0.5, Unit.INCH: 25.4 / 16}
"""mm: half a millimetre, and half an eighth of an inch, to which people are asked to measure (marking.md)."""


@dataclass
class Tally:
    """What was found, quiz by quiz and question by question."""

    lessons: dict[str, Lesson]
    quizzes: int = 0
    twice: int = 0
    uneven_lessons: int = 0
    uneven_levels: int = 0
    beyond: int = 0
    means: list[float] = field(default_factory=list)
    met: set[Question] = field(default_factory=set)
    forms: Counter[str] = field(default_factory=Counter)
    right_at: Counter[int] = field(default_factory=Counter)
    questions: dict[Question, tuple[str, ...]] = field(default_factory=dict)

    def add(self, quiz: Quiz) -> None:
        """Looks at one quiz."""
        asked = quiz.questions
        self.quizzes += 1
        self.twice += len({question.key for question in asked}) < len(asked)
        self.twice += len({(question.lesson, question.body) for question in asked}) < len(asked)
        self.uneven_lessons += uneven([Counter(q.lesson for q in asked)[name] for name in self.lessons])
        self.uneven_levels += self._uneven_levels(asked)
        self.beyond += any(not self._within(question) for question in asked)
        self.means.append(sum(math.log(question.difficulty) for question in asked) / len(asked))
        for question in asked:
            self.forms[question.form] += 1
            self.met.add(question)
            if question not in self.questions:
                self.questions[question] = tuple(self.wrong_with(question))

    def _within(self, question: Question) -> bool:
        """Whether a question is as difficult as its lesson allows of a variant."""
        least, most = self.lessons[question.lesson].vary.difficulty
        return least - 1e-6 <= question.difficulty <= most + 1e-6

    def _uneven_levels(self, asked: tuple[Question, ...]) -> bool:
        """Whether one demand is made oftener than another by more than one; where every lesson makes all demands."""
        offered = [levels_of(self.lessons[question.lesson]) for question in asked]
        if any(levels != offered[0] for levels in offered):
            return False
        levels = Counter(level_of(self.lessons[question.lesson], question) for question in asked)
        return uneven([levels[level] for level in offered[0]])

    def wrong_with(self, question: Question) -> list[str]:
        lesson, found = self.lessons[question.lesson], list[str]()
        asked = ask(question, lesson, Unit.CM)
        for unit in UNITS:
            asked.session.unit = unit
            if isinstance(asked, Chosen):
                found += wrong_with_options(asked, unit)
                self.right_at[asked.right() or 0] += unit is Unit.CM
            else:
                found += wrong_with_key(asked)
        return found


def uneven(counts: list[int]) -> bool:
    return max(counts) - min(counts) > 1


@cache
def levels_of(lesson: Lesson) -> tuple[int, ...]:
    return tuple(sorted({asking.level for asking in askings(lesson) if is_offered(lesson, asking)}))


def level_of(lesson: Lesson, question: Question) -> int:
    wanted = (question.task, question.form)
    return next(a.level for a in askings(lesson) if isinstance(a, Asking) and (a.task, a.form) == wanted)


def wrong_with_key(asked: Asked) -> list[str]:
    """Whether the right figure as it is shown, or the worked solution, gets full marks."""
    session = asked.session
    if isinstance(session.task, NumberTask):
        asked.give(session.right_answer())
    else:
        solution = session.solution()
        if solution.plan is not None:
            session.adopt(solution.plan)
        else:
            asked.give(session.right_answer())
    marked = asked.mark()
    return [] if marked.total >= 1 else [f"its key gets {100 * marked.total:.0f} of 100"]


def wrong_with_options(asked: Chosen, unit: Unit) -> list[str]:
    """Whether one option alone is right, all read otherwise, and figures lie farther apart than the tolerance."""
    found = []
    passing = []
    for letter in LETTERS[: len(asked.options)]:
        asked.give(letter)
        marked = asked.mark()
        if marked.passed:
            passing.append(letter)
        elif asked.question.figures and marked.mistake is None:
            found.append(f"option {letter} names no mistake")
    if len(passing) != 1:
        found.append(f"{len(passing)} options pass")
    if len(set(asked.options)) < len(asked.options):
        found.append("two options read alike")
    task = asked.session.task
    if isinstance(task, NumberTask):
        allowed = max(task.tolerance.of(task.measure), HALF_DIVISION[unit])
        pairs = itertools.combinations(asked.question.figures, 2)
        found += ["two options are equal within the tolerance" for a, b in pairs if abs(a - b) <= allowed]
    return found


Made = dict[tuple[str, Asking, int], Question | None]
CHUNK = 20


def made_and_looked_at(lessons: dict[str, Lesson]) -> tuple[Made, dict[Question, tuple[str, ...]]]:
    """Every question of the lessons for every body, and what is wrong with each."""
    made: Made = {}
    wrong: dict[Question, tuple[str, ...]] = {}
    jobs = [
        (name, task, start)
        for name, lesson in lessons.items()
        for task in range(1, len(lesson.tasks) + 1)
        for start in range(0, BODIES, CHUNK)
    ]
    with ProcessPoolExecutor(2) as pool:
        for done, found in enumerate(pool.map(look_at, jobs), 1):
            for key, question, what in found:
                made[key] = question
                if question is not None:
                    wrong[question] = what
            print(f"\r{done} of {len(jobs)}", end="", file=sys.stderr, flush=True)
    return made, wrong


def look_at(job: tuple[str, int, int]) -> list[tuple[tuple[str, Asking, int], Question | None, tuple[str, ...]]]:
    """The questions of one task for some bodies."""
    name, task, start = job
    lessons = {lesson.name: lesson for lesson in own_lessons()}
    tally = Tally(lessons)
    found = []
    for body in range(start, start + CHUNK):
        for asking in askings(lessons[name]):
            if asking.task == task and is_offered(lessons[name], asking):
                question = making.question_of(lessons[name], asking, body)
                wrong = () if question is None else tuple(tally.wrong_with(question))
                found.append(((name, asking, body), question, wrong))
    return found


def draw(
    quizzes: int, count: int, lessons: dict[str, Lesson], looked_at: dict[Question, tuple[str, ...]] | None = None
) -> Tally:
    """So many quizzes, of the seeds from 0."""
    tally = Tally(lessons, questions=dict(looked_at or {}))
    for seed in range(quizzes):
        tally.add(draw_quiz(QuizSpec(tuple(lessons), count, seed), lessons))
    return tally


def report(tally: Tally, seconds: float) -> None:
    """Prints what was found."""
    wrong = {question: found for question, found in tally.questions.items() if found}
    means = sorted(math.exp(mean) for mean in tally.means)
    within = sum(abs(mean) <= BAND for mean in tally.means)
    kinds = Counter(found for each in wrong.values() for found in each)
    print(f"{tally.quizzes} quizzes, {sum(tally.forms.values())} questions, {len(tally.met)} of them different")
    print(f"a question twice: {tally.twice}")
    print(f"lessons uneven by more than one: {tally.uneven_lessons}; demands: {tally.uneven_levels}")
    print(f"a question beyond its lesson's band of difficulty: {tally.beyond}")
    print(f"mean difficulty of a quiz: {means[0]:.3f} to {means[-1]:.3f} times the lessons' own,")
    print(f"  within a factor of {math.exp(BAND):.3f}: {within}")
    print(f"forms: {dict(tally.forms)}; right option at place: {dict(sorted(tally.right_at.items()))}")
    print(f"questions looked at: {len(tally.questions)}; with something wrong: {len(wrong)} {dict(kinds) or ''}")
    for question, found in list(wrong.items())[:10]:
        print(f"  {question.lesson} task {question.task} {question.form} body {question.body}: {found[0]}")
    print(f"{seconds:.0f} s")


def print_bytes(quizzes: int, lessons: dict[str, Lesson]) -> None:
    """Prints quizzes as they are stored, each read back first."""
    for seed in range(quizzes):
        quiz = draw_quiz(QuizSpec(tuple(lessons), 8, seed), lessons)
        assert quiz_from(quiz.stored()) == quiz
        print(quiz.digest, quiz.text)


def main(arguments: list[str]) -> None:
    lessons = {lesson.name: lesson for lesson in own_lessons()}
    if arguments[:1] == ["bytes"]:
        print_bytes(int((arguments[1:] or ["20"])[0]), lessons)
        return
    whole = arguments[:1] == ["all"]
    arguments = arguments[whole:]
    quizzes, count = int((arguments[:1] or ["200"])[0]), int((arguments[1:2] or ["8"])[0])
    wanted = set(map(int, arguments[2:]))
    chosen = {name: lesson for name, lesson in lessons.items() if not wanted or lesson.number in wanted}
    start = time.monotonic()
    wrong: dict[Question, tuple[str, ...]] = {}
    if whole:
        made, wrong = made_and_looked_at(chosen)
        none = sum(question is None for question in made.values())
        print(f"{len(made)} questions made, {none} bodies made none")
        setattr(drawing, "question_of", lambda lesson, asking, body: made[lesson.name, asking, body])  # noqa: B010
    tally = draw(quizzes, count, chosen, wrong)
    report(tally, time.monotonic() - start)


if __name__ == "__main__":
    main(sys.argv[1:])
