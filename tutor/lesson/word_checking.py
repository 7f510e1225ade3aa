"""Whether a text of a lesson is short enough, and its braces hold figures."""

from __future__ import annotations

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.strict import Reader
from tutor.lesson.wording import Figures, unclosed, worded
from tutor.toml_lines import Path

MOST_WORDS = 60
MOST_LETTERS = 600
NAMED_PLANS = 3
"""Plans that are named to choose among."""


def check_words(lesson: Lesson, text: str, path: Path, reader: Reader, figures: Figures | None = None) -> None:
    """Notes what is wrong with a text: empty, longer than there is room for, or with braces that name nothing."""
    count = len(text.split())
    if not count:
        reader.fault(path, "is empty", "write a text or leave it out")
    if count > MOST_WORDS:
        reader.fault(path, f"has {count} words", f"write at most {MOST_WORDS}, so that it fits beside the pattern")
    elif len(text) > MOST_LETTERS:
        reader.fault(path, f"has {len(text)} letters", f"write at most {MOST_LETTERS}")
    if half := unclosed(text):
        reader.fault(path, f"has a brace without its other half: {half}", "write {arm and ease}, or no brace")
    try:
        worded(text, lesson.arm, lesson.unit, figures)
    except Fault as fault:
        right = fault.right if figures is None else f"{fault.right}, or {_named(lesson)}"
        reader.fault(path, fault.what, right)


def _named(lesson: Lesson) -> str:
    """What else a task's texts may name, by the lesson's own plans."""
    plans = list(lesson.plans)[:NAMED_PLANS]
    amounts = [f"{{{name} opening 1}}" for name in plans if lesson.plans[name].plan.openings]
    solved = [f"{{{name} for 1}}" for name in plans if lesson.plans[name].sought]
    return ", ".join(["{goal 1}", *amounts, *solved])
