"""A lesson on the screen, with all its keys."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from tutor.tui.actions import Mode, bindings
from tutor.tui.looking_keys import LookingKeys
from tutor.tui.marking_keys import MarkingKeys
from tutor.tui.mouse_hand import MouseHand
from tutor.tui.watching_keys import WatchingKeys


class LessonScreen(MouseHand, MarkingKeys, WatchingKeys, LookingKeys):
    """Picture, tape and plan; placing slashes, opening them, having them marked."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(Mode.PLAN, Mode.PLACING, Mode.NUMBER, Mode.SHOWING, Mode.WALKING)
