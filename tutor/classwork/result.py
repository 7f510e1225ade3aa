"""An answer's automatic mark as it is kept: figures and sentences, and the pattern drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tutor.faults import Fault


@dataclass(frozen=True, slots=True)
class GoalLine:
    """One goal as it is shown: what it is about, what it came to, what was wanted, and the credit from 0 to 1."""

    words: str
    figure: str
    wanted: str
    credit: float


@dataclass(frozen=True, slots=True)
class Drawn:
    """An outline for a picture: SVG path data in mm with y down, and how it is drawn."""

    look: str
    path: str


@dataclass(frozen=True, slots=True)
class Result:
    """The mark of one answer. ``trouble`` says why there is none; ``total`` is then None, neither 0 nor full marks.

    ``by`` is the question's fingerprint that it was marked by, ``near`` says that it was missed by little.
    """

    by: str
    total: float | None
    passed: bool = False
    near: bool = False
    mistake: str | None = None
    feedback: tuple[str, ...] = ()
    goals: tuple[GoalLine, ...] = ()
    differences: tuple[str, ...] = ()
    pictures: tuple[tuple[Drawn, ...], ...] = ()
    trouble: str = ""

    def stored(self) -> dict[str, Any]:
        """The result as a plain table."""
        return {
            "by": self.by,
            "total": self.total,
            "passed": self.passed,
            "near": self.near,
            "mistake": self.mistake,
            "feedback": list(self.feedback),
            "goals": [[goal.words, goal.figure, goal.wanted, goal.credit] for goal in self.goals],
            "differences": list(self.differences),
            "pictures": [[[line.look, line.path] for line in picture] for picture in self.pictures],
            "trouble": self.trouble,
        }


def result_from(stored: Any) -> Result:
    """The result that ``stored`` made the table of. Raises KeyError, TypeError or ValueError for anything else."""
    return Result(
        by=str(stored["by"]),
        total=None if stored["total"] is None else float(stored["total"]),
        passed=bool(stored["passed"]),
        near=bool(stored["near"]),
        mistake=None if stored["mistake"] is None else str(stored["mistake"]),
        feedback=tuple(map(str, stored["feedback"])),
        goals=tuple(GoalLine(str(w), str(f), str(b), float(c)) for w, f, b, c in stored["goals"]),
        differences=tuple(map(str, stored["differences"])),
        pictures=tuple(tuple(Drawn(str(look), str(path)) for look, path in each) for each in stored["pictures"]),
        trouble=str(stored["trouble"]),
    )


def unmarked(by: str, fault: Fault) -> Result:
    """The result of an answer that can't be marked."""
    return Result(by, None, trouble=str(fault))
