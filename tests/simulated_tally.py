"""What became of simulated learners: how many there were, and what the tutor said of their answers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from tutor.marking.marked import Marked

BY_CHANCE = "by chance usual"
"""Answers out of the blue that are, to the division they are written in, just what a usual mistake leads to."""


@dataclass
class Tally:
    """What became of the learners of one task."""

    title: str
    right: int = 0
    failed: int = 0
    accused: int = 0
    made: Counter[str] = field(default_factory=Counter)
    named: Counter[str] = field(default_factory=Counter)
    taken: Counter[tuple[str, str]] = field(default_factory=Counter)
    nonsense: Counter[str] = field(default_factory=Counter)
    guessed: Counter[str] = field(default_factory=Counter)

    def add_right(self, marked: Marked) -> None:
        self.right += 1
        self.failed += not marked.passed
        self.accused += marked.mistake is not None

    def add_mistake(self, name: str, marked: Marked) -> None:
        """A mistake that leads to an answer that passes is none, and must be told nothing."""
        if marked.passed:
            self.accused += marked.mistake is not None
            return
        if marked.refusal is not None:
            return
        self.made[name] += 1
        self.named[name] += marked.mistake == name
        if marked.mistake != name:
            self.taken[name, marked.mistake or "none"] += 1

    def add_nonsense(self, kind: str, marked: Marked, *, usual: bool) -> None:
        """An answer out of the blue; ``usual`` says that it happens to be what a mistake leads to."""
        if not marked.settled:
            kind = BY_CHANCE if usual else kind
            self.nonsense[kind] += 1
            self.guessed[kind] += marked.mistake is not None

    @property
    def share_named(self) -> float:
        """The share of mistakes named rightly; all of them where none could be made."""
        made = sum(self.made.values())
        return sum(self.named.values()) / made if made else 1.0

    @property
    def share_guessed(self) -> float:
        """The share of answers wrong in no usual way in which a mistake was named."""
        return self._guessed([kind for kind in self.nonsense if kind != BY_CHANCE])

    @property
    def share_of_all_guessed(self) -> float:
        """The same, those counted as well that happen to be what a usual mistake leads to."""
        return self._guessed(list(self.nonsense))

    def _guessed(self, kinds: Sequence[str]) -> float:
        return sum(self.guessed[k] for k in kinds) / max(sum(self.nonsense[k] for k in kinds), 1)


def table(tallies: Sequence[Tally]) -> Iterator[str]:
    """The figures of all tasks, and below each what mistakes were taken for."""
    yield (
        f"{'':<38}{'right answers':^22}  {'usual mistakes':^18}  {'wrong in no usual way':^22}  with those"
        f"\n{'task':<38}{'marked':>7}{'failed':>7}{'accused':>8}  {'made':>7}{'named':>10}"
        f"   {'given':>10}{'named':>11}  by chance usual"
    )
    for tally in tallies:
        yield _row(tally)
        yield f"{'':<8}{_kinds(tally)}"
        for (name, taken), count in tally.taken.most_common():
            yield f"{'':<8}{name}: {count} of {tally.made[name]} taken for {taken}"
    yield _row(added(tallies))


def _row(tally: Tally) -> str:
    given = sum(count for kind, count in tally.nonsense.items() if kind != BY_CHANCE)
    return (
        f"{tally.title[:37]:<38}{tally.right:>7}{tally.failed:>7}{tally.accused:>8}"
        f"  {sum(tally.made.values()):>7}{100 * tally.share_named:>8.2f} %"
        f"   {given:>10}{100 * tally.share_guessed:>9.2f} %{100 * tally.share_of_all_guessed:>9.2f} %"
    )


def _kinds(tally: Tally) -> str:
    """How often a mistake was named in each kind of answers out of the blue."""
    parts = (f"{kind} {tally.guessed[kind]} of {count}" for kind, count in tally.nonsense.items())
    return f"out of the blue, named: {', '.join(parts)}"


def added(tallies: Sequence[Tally]) -> Tally:
    """All tallies as one."""
    total = Tally("all tasks")
    for tally in tallies:
        total.right += tally.right
        total.failed += tally.failed
        total.accused += tally.accused
        total.made += tally.made
        total.named += tally.named
        total.nonsense += tally.nonsense
        total.guessed += tally.guessed
    return total
