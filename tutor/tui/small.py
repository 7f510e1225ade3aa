"""What stands on a screen that is too small."""

from __future__ import annotations

from textual import events
from textual.content import Content
from textual.widgets import Static

LEAST = (60, 20)
"""Columns and rows that the tutor needs."""


class Small(Static):
    """Says what room is needed; shown by the style sheet when there is less."""

    def __init__(self) -> None:
        super().__init__(id="small")

    def on_resize(self, event: events.Resize) -> None:
        columns, rows = self.app.size
        self.update(Content(f"The tutor needs {LEAST[0]} x {LEAST[1]}.\nThis window has {columns} x {rows}."))
