"""A quiz drawn: which questions, balanced by lesson and by what they demand, and for which bodies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.quiz.forms import Asking, askings
from tutor.quiz.making import is_offered, question_of, strain
from tutor.quiz.question import Question
from tutor.quiz.quiz import GENERATOR, Quiz
from tutor.quiz.shares import Shares
from tutor.quiz.spec import QuizSpec

BODIES = 500
"""How many bodies each lesson's questions are drawn for."""
BAND = 0.1
"""How far the mean of the questions' difficulties, as logarithms, may lie from the lessons' own: about a tenth."""
TRIES = 12
"""How many fit bodies are looked at for one that keeps the quiz in its band; then the nearest is taken."""
MOST_TRIES = 200

Told = Callable[[int, int], object]
"""Is told how many questions of how many are drawn."""


def draw_quiz(spec: QuizSpec, lessons: Mapping[str, Lesson], told: Told = lambda done, of: None) -> Quiz:
    """The quiz of a spec, over lessons by their names. Raises Fault when no such quiz can be drawn."""
    chosen = [_lesson(lessons, name) for name in spec.lessons]
    plan = _askings(spec, chosen)
    bodies = Shares("bodies", GENERATOR, spec.seed, spec.variant_set)
    questions: list[Question] = []
    for number, asking in enumerate(plan):
        told(number, len(plan))
        questions.append(_question(lessons[asking.lesson], asking, questions, bodies, number))
    told(len(plan), len(plan))
    return Quiz(spec, tuple(questions))


def _lesson(lessons: Mapping[str, Lesson], name: str) -> Lesson:
    if name not in lessons:
        raise Fault("lessons", f'"{name[:40]}" is no lesson here', f"there are {', '.join(lessons)}")
    return lessons[name]


def _askings(spec: QuizSpec, lessons: Sequence[Lesson]) -> list[Asking]:
    """What is asked, the least demanding first; the same for every variant set."""
    shares = Shares("askings", GENERATOR, spec.seed, spec.count, *(lesson.name for lesson in lessons))
    taken: list[Asking] = []
    for lesson in _turns(spec.count, lessons, shares):
        taken.append(_next(lesson, taken, shares))
    return sorted(shares.ordered("asked", taken), key=lambda asking: asking.level)


def _turns(count: int, lessons: Sequence[Lesson], shares: Shares) -> list[Lesson]:
    """A lesson for each question, all of them as often or once more; those that offer least choose first."""
    turns: list[Lesson] = []
    while len(turns) < count:
        turns += shares.ordered(f"turn {len(turns)}", lessons)[: count - len(turns)]
    demands = {lesson.name: len({asking.level for asking in askings(lesson)}) for lesson in lessons}
    return sorted(turns, key=lambda lesson: demands[lesson.name])


def _next(lesson: Lesson, taken: Sequence[Asking], shares: Shares) -> Asking:
    """What of a lesson is asked next: of the demand that was made least, what was asked least yet."""
    times, levels = Counter(taken), Counter(asking.level for asking in taken)
    tasks = Counter((asking.lesson, asking.task) for asking in taken)
    order = shares.ordered(f"next {len(taken)}", askings(lesson))
    order.sort(key=lambda each: (levels[each.level], times[each], tasks[each.lesson, each.task]))
    found = next((asking for asking in order if is_offered(lesson, asking)), None)
    if found is None:
        raise Fault(lesson.name, "has nothing that can be asked", "leave the lesson out")
    return found


def _question(lesson: Lesson, asking: Asking, before: Sequence[Question], bodies: Shares, number: int) -> Question:
    """A question for a body that no question before it of the lesson was set for, and that keeps the quiz in its band.

    Raises Fault when hardly any body makes such a question.
    """
    used = {question.body for question in before if question.lesson == lesson.name}
    so_far = sum(map(strain, before))
    found: list[tuple[float, Question]] = []
    for attempt in range(MOST_TRIES):
        body = bodies.below(f"{number}/{attempt}", BODIES)
        question = None if body in used else question_of(lesson, asking, body)
        if question is None:
            continue
        off = abs(so_far + strain(question)) / (number + 1)
        if off <= BAND:
            return question
        found.append((off, question))
        if len(found) == TRIES:
            break
    if not found:
        what = f"no body of {MOST_TRIES} makes a question of task {asking.task}"
        raise Fault(lesson.name, what, "leave the lesson out, or try another seed")
    return min(found, key=lambda each: each[0])[1]
