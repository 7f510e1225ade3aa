"""What a learner has found out about a sleeve with folds: the signs asked for, and the cause named."""

from __future__ import annotations

from dataclasses import dataclass, replace

JOIN = ", "
BY = "by"
"""Stands between the cause and the signs where a finding is written down."""


@dataclass(frozen=True, slots=True)
class Finding:
    """The signs asked for, in that order, and the cause named; no cause while there is none."""

    asked: tuple[str, ...] = ()
    cause: str = ""

    @property
    def text(self) -> str:
        """The finding as it is kept: "girth-short by pinch, walk"; nothing where nothing was found out."""
        signs = f"{BY} {JOIN.join(self.asked)}" if self.asked else ""
        return f"{self.cause} {signs}".strip()

    @classmethod
    def read(cls, text: str) -> Finding:
        """The finding that ``text`` was kept as."""
        cause, _, signs = f" {text} ".partition(f" {BY} ")
        return cls(tuple(filter(None, (sign.strip() for sign in signs.split(JOIN.strip())))), cause.strip())

    def asking(self, sign: str) -> Finding:
        """With one more sign asked for; the same where it was."""
        return self if sign in self.asked else replace(self, asked=(*self.asked, sign))

    def naming(self, cause: str) -> Finding:
        """With this cause named; none where it was named before."""
        return replace(self, cause="" if cause == self.cause else cause)
