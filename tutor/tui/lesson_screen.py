"""A lesson on the screen, with all its keys."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from tutor.tui.actions import Mode, bindings
from tutor.tui.choosing_keys import ChoosingKeys
from tutor.tui.diagnosing_keys import DiagnosingKeys
from tutor.tui.looking_keys import LookingKeys
from tutor.tui.marking_keys import MarkingKeys
from tutor.tui.mouse_hand import MouseHand
from tutor.tui.watching_keys import WatchingKeys


class LessonScreen(MouseHand, MarkingKeys, ChoosingKeys, DiagnosingKeys, WatchingKeys, LookingKeys):
    """Picture, tape and plan; placing slashes, opening them, having them marked."""

    BINDINGS: ClassVar[list[BindingType]] = bindings(*(mode for mode in Mode if mode is not Mode.LESSONS))
