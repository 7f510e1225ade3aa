"""A lesson being talked through, line by line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from tutor.alteration.alter import Altered
from tutor.alteration.place_words import place_words
from tutor.alteration.plan import At
from tutor.alteration.refusal import Refusal
from tutor.marking.figures import shown
from tutor.practice.lapping import lap_words
from tutor.practice.page import Page
from tutor.practice.plain_text import changed_line
from tutor.practice.session import Session
from tutor.practice.tape import TapeRow
from tutor.units import Unit


@dataclass(slots=True)
class Talk:
    """A session being talked through; ``leaving`` once the learner has said so, or the last task is done.

    ``told`` are the figures of the measures as they were last told. ``unit_changed`` is told of another unit, and
    ``progress`` gives how the lessons stand.
    """

    session: Session
    page: Page
    leaving: bool = False
    told: dict[str, float] = field(default_factory=dict)
    unit_changed: Callable[[Unit], None] | None = None
    progress: Callable[[], Sequence[Sequence[str]]] | None = None

    def lines(self, *texts: str) -> list[str]:
        return [line for text in texts for line in self.page.wrapped(text)]

    def after_edit(self, *said: str) -> list[str]:
        """What an edit did, and which measures it changed."""
        found = self.session.preview()
        if isinstance(found, Refusal):
            # Whoever takes it back has no figures before them: then all that has changed is told.
            self.told.clear()
            return self.lines(*said, refused(found, self.session.unit))
        rows = self.session.tape()
        changed = [row for row in rows if row.now is not None and self._is_news(row, row.now)]
        self.tell(rows)
        laps = lap_words(found, self.session.unit) if isinstance(found, Altered) else ()
        return self.lines(*said, changed_line(changed, rows, self.session.unit), *laps)

    def tell(self, rows: Sequence[TapeRow]) -> None:
        """Takes the figures of the rows as told."""
        self.told |= {row.measure: row.now for row in rows if row.now is not None}

    def _is_news(self, row: TapeRow, now: float) -> bool:
        figures = (now, self.told.get(row.measure, row.before))
        return len({shown(row.measure, figure, self.session.unit) for figure in figures}) > 1


def refused(refusal: Refusal, unit: Unit) -> str:
    """Why paper can't follow the work as it is, and where that is."""
    where = ""
    if refusal.place is not None and not refusal.piece.endswith("bodice"):
        where = f" That is at {place_words(At(refusal.place), unit)}."
    return f"Paper can't follow this ({refusal.kind}): {refusal.words(unit)}.{where}"


def refused_told(talk: Talk) -> list[str]:
    """Why paper can't follow the work as it is, in lines; nothing where it can."""
    found = talk.session.preview()
    return talk.lines(refused(found, talk.session.unit)) if isinstance(found, Refusal) else []
