"""Whether a text of a lesson is short enough, and its braces hold figures."""

from __future__ import annotations

from tutor.faults import Fault
from tutor.lesson.lesson import Lesson
from tutor.lesson.strict import Reader
from tutor.lesson.toml_lines import Path
from tutor.lesson.wording import Figures, worded

MOST_WORDS = 60
MOST_LETTERS = 600


def check_words(lesson: Lesson, text: str, path: Path, reader: Reader, figures: Figures | None = None) -> None:
    count = len(text.split())
    if not count:
        reader.fault(path, "is empty", "write a text or leave it out")
    if count > MOST_WORDS:
        reader.fault(path, f"has {count} words", f"write at most {MOST_WORDS}, so that it fits beside the pattern")
    elif len(text) > MOST_LETTERS:
        reader.fault(path, f"has {len(text)} letters", f"write at most {MOST_LETTERS}")
    try:
        worded(text, lesson.arm, lesson.unit, figures)
    except Fault as fault:
        reader.fault(path, fault.what, fault.right)
