"""Progress over time: mistakes, and week by week how it went, as tables, as a plot, for spreadsheets and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from tutor.commands.terminal import page
from tutor.faults import printable
from tutor.marking.usual import mistake_words
from tutor.practice.page import NARROWEST, USUAL
from tutor.record import KeptAttempt, LessonProgress
from tutor.record.weeks import Count, MistakeProgress, Week, mistakes_made, weeks

NARROW = 12
"""Weeks that a table has room for; older ones are in the plot, the spreadsheet and the JSON."""
PLOT_ROWS = 10
BLOCKS = " ▁▂▃▄▅▆▇█"
LETTERS = " .:-=+*#@"
"""A row of figures in as many letters, from nothing to the most, where there are no blocks."""


@dataclass(frozen=True, slots=True)
class Done:
    """All that was done: lessons by name with their titles, the mistakes, and the weeks."""

    titles: dict[str, str]
    mistakes: tuple[MistakeProgress, ...]
    weeks: tuple[Week, ...]

    @classmethod
    def of(cls, lessons: Sequence[LessonProgress], attempts: Sequence[KeptAttempt], most: int) -> Done:
        """What the attempts of a record come to, in the last ``most`` weeks."""
        titles = {each.lesson: printable(f"{each.number:>2}  {each.title}") for each in lessons}
        return cls(titles, mistakes_made(attempts), weeks(attempts, datetime.now(UTC), most) if attempts else ())

    @property
    def lessons(self) -> list[str]:
        """The lessons that were tried in these weeks, in their order."""
        tried = {name for week in self.weeks for name in week.lessons}
        return [name for name in self.titles if name in tried]

    @property
    def made(self) -> list[str]:
        """The mistakes that were made in these weeks, the most frequent first."""
        there = {name for week in self.weeks for name in week.mistakes}
        return [each.name for each in self.mistakes if each.name in there]


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"


def print_mistakes(done: Done, *, spaced: bool) -> None:
    """Every kind of mistake that was recognised."""
    if not done.mistakes:
        if not spaced:
            print("No mistake was recognised yet.")
        return
    rows = [["mistake", "times", "lessons", "first", "last"]]
    for each in done.mistakes:
        numbers = [done.titles[name].split()[0] for name in each.lessons if name in done.titles]
        first, last = (f"{time.astimezone():%Y-%m-%d}" for time in (each.first, each.last))
        rows.append([mistake_words(each.name), str(each.times), ", ".join(numbers), first, last])
    print("\n".join(["", *page().table(rows)] if spaced else page().table(rows)))


def print_weeks(done: Done, *, spaced: bool) -> None:
    """How many answers to each lesson were right of how many, and how often each mistake was made, week by week."""
    if not done.weeks:
        if not spaced:
            print("Nothing was answered in these weeks.")
        return
    shown = done.weeks[-NARROW:]
    rows = [["right of answered, week from", *(_day(week.start) for week in shown)]]
    rows += [[done.titles[name], *(_of(week.lessons.get(name)) for week in shown)] for name in done.lessons]
    rows.append(["all", *(_of(week.all) for week in shown)])
    lines = [*([""] if spaced else []), *page().table(rows)]
    if done.made:
        rows = [["mistakes made, week from", *(_day(week.start) for week in shown)]]
        rows += [[mistake_words(name), *(str(week.mistakes.get(name, "")) for week in shown)] for name in done.made]
        lines += ["", *page().table(rows)]
    print("\n".join(lines))


def _of(count: Count | None) -> str:
    return "" if count is None or not count.tries else f"{count.right}/{count.tries}"


def print_plot(done: Done, about: str | None, *, ascii: bool) -> None:
    """The weeks drawn: all answers as a graph, each lesson and each mistake as a row."""
    from tutor.commands.picture import encodes_braille
    from tutor.picture.graph import Line, graph

    if not done.weeks:
        print("Nothing was answered in these weeks.")
        return
    ascii = ascii or not encodes_braille()
    counts = [week.all for week in done.weeks]
    right = Line("of 100 answers right", [_share(count) for count in counts])
    wrong = Line(
        "of 100 answers a mistake recognised",
        [100 * sum(w.mistakes.values()) / w.all.tries if w.all.tries else None for w in done.weeks],
    )
    places = [_day(week.start) for week in done.weeks]
    if about in (None, "weeks"):
        print(
            "\n".join(
                graph([right, wrong], places, 100, min(max(page().width, NARROWEST), USUAL), PLOT_ROWS, ascii=ascii)
            )
        )
    if about in (None, "lessons"):
        shares = {done.titles[name]: [_share(week.lessons.get(name)) for week in done.weeks] for name in done.lessons}
        _print_rows("right, week by week", shares, 100.0, ascii)
    if about in (None, "mistakes"):
        times = {mistake_words(n): [float(week.mistakes.get(n, 0)) for week in done.weeks] for n in done.made}
        _print_rows("mistakes, week by week", times, max((max(row) for row in times.values()), default=1.0), ascii)


def _share(count: Count | None) -> float | None:
    return 100 * count.right / count.tries if count is not None and count.tries else None


def _print_rows(heading: str, rows: Mapping[str, Sequence[float | None]], most: float, ascii: bool) -> None:
    """Rows of figures, each drawn in as many letters; a point in the middle stands for a week without any."""
    if not rows:
        return
    letters = LETTERS if ascii else BLOCKS
    print(f"\n{heading} ({letters[1]} least, {letters[-1]} {most:g})")
    for words, figures in rows.items():
        drawn = "".join(("-" if ascii else "·") if x is None else _letter(x / most, letters) for x in figures)
        print(f"{drawn}  {words}")


def _letter(share: float, letters: str) -> str:
    return letters[0] if share <= 0 else letters[max(round(share * (len(letters) - 1)), 1)]


def print_weeks_csv(done: Done, about: str | None) -> None:
    """A row for each mistake; or for each week a row for all, each lesson and each mistake."""
    from tutor.commands.output import print_csv

    print_csv(_mistake_rows(done) if about == "mistakes" else _week_rows(done))


def _mistake_rows(done: Done) -> Iterator[tuple[object, ...]]:
    from tutor.commands.progress import cell

    yield "mistake", "words", "times", "lessons", "first", "last"
    for made in done.mistakes:
        dates = (made.first.isoformat(), made.last.isoformat())
        yield made.name, cell(mistake_words(made.name)), made.times, " ".join(made.lessons), *dates


def _week_rows(done: Done) -> Iterator[tuple[object, ...]]:
    from tutor.commands.progress import cell

    yield "week", "of", "name", "answers", "right", "mean mark"
    for week in done.weeks:
        start = week.start.isoformat()
        yield start, "all", "", *_figures(week.all)
        yield from ((start, "lesson", cell(name), *_figures(week.lessons[name])) for name in sorted(week.lessons))
        yield from ((start, "mistake", name, week.mistakes[name], "", "") for name in sorted(week.mistakes))


def _figures(count: Count) -> tuple[int, int, str]:
    return count.tries, count.right, "" if count.mean is None else f"{100 * count.mean:.6g}"


def weeks_json(done: Done) -> dict[str, Any]:
    """Mistakes and weeks as plain tables."""
    return {
        "mistakes": [
            {
                "name": each.name,
                "words": mistake_words(each.name),
                "times": each.times,
                "lessons": list(each.lessons),
                "first": each.first.isoformat(),
                "last": each.last.isoformat(),
            }
            for each in done.mistakes
        ],
        "weeks": [
            {
                "start": week.start.isoformat(),
                "all": _count_json(week.all),
                "lessons": {name: _count_json(count) for name, count in sorted(week.lessons.items())},
                "mistakes": dict(sorted(week.mistakes.items())),
            }
            for week in done.weeks
        ],
    }


def _count_json(count: Count) -> dict[str, Any]:
    return {"answers": count.tries, "right": count.right, "mean-mark": count.mean}
