"""What a quiz came to: the mark, the mistakes recognised, and what to practise next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from tutor.lesson.lesson import Lesson
from tutor.marking.points import out_of_100
from tutor.marking.usual import mistake_words
from tutor.quiz.clock import spell
from tutor.quiz.sitting import Result, Sitting

MOST_ADVICE = 3


@dataclass(frozen=True, slots=True)
class Advice:
    """A task, counted from 1, of a lesson that is worth practising, and why."""

    lesson: str
    number: int
    title: str
    task: int
    why: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """``mark`` is the mean of all questions' marks, 0 to 1; ``mistakes`` are their names and how often they showed."""

    results: tuple[Result, ...]
    mark: float
    pass_mark: float
    mistakes: tuple[tuple[str, int], ...]
    advice: tuple[Advice, ...]

    @property
    def passed(self) -> bool:
        return self.mark >= self.pass_mark - 1e-12


def outcome_of(sitting: Sitting) -> Outcome:
    """What a sitting came to. Raises Fault before it is over."""
    results = sitting.results()
    mistakes = Counter(each.marked.mistake for each in results if each.marked.mistake is not None)
    mark = sum(each.marked.total for each in results) / len(results)
    ranked = tuple(sorted(mistakes.items(), key=lambda item: (-item[1], item[0])))
    return Outcome(results, mark, sitting.quiz.spec.pass_mark, ranked, advice(results, sitting.lessons))


def advice(results: tuple[Result, ...], lessons: Mapping[str, Lesson]) -> tuple[Advice, ...]:
    """The tasks that lost most, each once."""
    missed = [each for each in results if not each.marked.passed]
    missed.sort(key=lambda each: (each.marked.total, each.number))
    first: dict[tuple[str, int], Result] = {}
    for each in missed:
        first.setdefault((each.question.lesson, each.question.task), each)
    return tuple(_advice(each, lessons[each.question.lesson]) for each in list(first.values())[:MOST_ADVICE])


def _advice(result: Result, lesson: Lesson) -> Advice:
    return Advice(lesson.name, lesson.number, lesson.title, result.question.task, why(result))


def why(result: Result) -> str:
    """What was amiss with an answer, in a few words."""
    if result.marked.mistake is not None:
        return mistake_words(result.marked.mistake)
    if result.answer is None:
        return "not answered"
    return f"{out_of_100(result.marked.total)} of 100"


def time_words(sitting: Sitting) -> tuple[str, ...]:
    """How long it took, by the clock and with the quiz open; and what was amiss with the clock."""
    clock = sitting.clock
    by_clock, at_work = spell(clock.elapsed), spell(clock.open)
    # Answers that come by a pipe take no time of their own.
    apart = at_work not in (by_clock, spell(0))
    said = [f"It took {by_clock}, {at_work} of it with the quiz open." if apart else f"It took {by_clock}."]
    if sitting.ended_by_time:
        said = [f"The time was up after {spell(clock.limit or 0)}; what was answered by then is marked."]
    if clock.set_back:
        said.append(f"The computer's clock was set back by {spell(clock.set_back)} meanwhile; that changes nothing.")
    return tuple(said)
