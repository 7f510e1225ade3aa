"""A lesson being talked through, line by line."""

from __future__ import annotations

from dataclasses import dataclass

from tutor.alteration.refusal import Refusal
from tutor.practice.plain_text import changed_line, wrapped
from tutor.practice.session import Session


@dataclass(slots=True)
class Talk:
    """A session being talked through; ``leaving`` once the learner has said so, or the last task is done."""

    session: Session
    width: int
    leaving: bool = False

    def lines(self, *texts: str) -> list[str]:
        return [line for text in texts for line in wrapped(text, self.width)]

    def after_edit(self, *said: str) -> list[str]:
        """What an edit did, and what it comes to."""
        found = self.session.preview()
        if isinstance(found, Refusal):
            return self.lines(*said, refused(found))
        return self.lines(*said, changed_line(self.session.tape(), self.session.unit))


def refused(refusal: Refusal) -> str:
    """Why paper can't follow the work as it is."""
    return f"Paper can't follow this ({refusal.kind}): {refusal.what}."
