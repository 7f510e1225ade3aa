"""A task that gives something to choose among, as a question."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.faults import Fault
from tutor.marking.finding import Finding
from tutor.quiz.asked import LETTERS, Asked


class Picked(Asked):
    """One of the options is to be chosen, or all that are right."""

    @property
    def options(self) -> tuple[str, ...]:
        return tuple(option.words for option in self.session.options)

    @property
    def answer(self) -> str | None:
        return self._told(self.session.chosen) or None

    def right_answer(self) -> str:
        try:
            return self._told(self.session.right_options())
        except Fault:
            return ""

    def _told(self, names: Sequence[str]) -> str:
        """Options by their names in words, each with its letter."""
        rows = zip(LETTERS, self.session.options, strict=False)
        return "; ".join(f"{letter}, {option.words}" for letter, option in rows if option.name in names)


class Diagnosed(Picked):
    """A task that shows folds, as a question: signs can be looked for before a cause is named."""

    @property
    def story(self) -> tuple[str, ...]:
        cautions = (f"Caution: {text}" for text in self.session.cautions)
        return (*self.session.brief, *cautions)

    def right_answer(self) -> str:
        """The cause, and signs that prove it."""
        try:
            right = Finding.read(self.session.right_answer())
        except Fault:
            return ""
        signs = [sign.words for sign in self.session.signs if sign.name in right.asked]
        return f"{self._told((right.cause,))}; signs that prove it: {'; '.join(signs)}"
