"""What the tutor's screens have in common: keys by one list, help, footer, units, themes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property

from textual import on
from textual.screen import Screen

from tutor.tui.actions import Action, Mode, footer, for_key, in_mode, named
from tutor.tui.desk import Desk
from tutor.tui.foot import Foot
from tutor.tui.glossary_page import glossary_parts
from tutor.tui.pages import Part, help_parts, paragraphs
from tutor.tui.reader import CHOSEN, Reader
from tutor.tui.sizes import size_classes
from tutor.tui.spelling import spelled_out
from tutor.tui.themes import PALETTES, PLAIN

LONGEST_SAID = 100
"""Letters of a notice that the line for it has room for on the smallest screen."""


class Face(Screen[None]):
    """A screen whose keys come from the list of actions: an action ``name`` is done by its method ``do_name``."""

    # Its widgets cover all of it.
    BLANK = True

    def __init__(self, desk: Desk) -> None:
        super().__init__(classes=size_classes(*self.app.size))
        self.desk = desk
        self.said = ""
        """What is to be told at the next ``show`` instead of the guide."""

    @property
    def mode(self) -> Mode:
        """What the learner is doing now."""
        raise NotImplementedError

    @property
    def actions(self) -> tuple[Action, ...]:
        """What can be done now: what help and palette list."""
        return in_mode(self.mode)

    @property
    def foot(self) -> tuple[Action, ...]:
        """What the footer shows now."""
        return footer(self.mode)

    def action_press(self, key: str) -> None:
        action = for_key(key, self.mode)
        if action is not None:
            self.perform(action)

    def perform(self, action: Action) -> None:
        """Does an action of the list, and shows what has become of it."""
        if self.mode in action.modes:
            doing: Callable[[], None] = getattr(self, f"do_{action.name}")
            doing()
            self.show()

    @on(Foot.Chosen)
    def choose(self, event: Foot.Chosen) -> None:
        self.perform(event.action)

    @cached_property
    def footer(self) -> Foot:
        return self.query_one(Foot)

    def show(self) -> None:
        """Brings everything on the screen up to date."""
        self.footer.show(self.foot)

    def read(
        self,
        heading: str,
        parts: Sequence[Part] | Callable[[int], Sequence[Part]],
        then: Callable[[str | None], None] | None = None,
        closing: tuple[tuple[str, str], ...] = (),
        enter: str = "",
        *,
        beside: bool = False,
    ) -> None:
        """Lays a page of text over the screen; ``then`` gets the key that closed it.

        One that is ``beside`` the picture leaves that to be seen, where there is room.
        """
        reader = Reader(heading, parts, ascii=self.desk.ascii, closing=closing, enter=enter, beside=beside)
        self.app.push_screen(reader, then)

    def tell_of_record(self, notice: str) -> None:
        """Tells what the learner has to know of what is kept: in the line below, or on a page where it is long."""
        if len(notice) > LONGEST_SAID:
            self.read("About what is kept", paragraphs([notice]))
        elif notice:
            self.said = notice

    def do_help(self) -> None:
        def then(key: str | None) -> None:
            if key is not None and key.startswith(CHOSEN):
                self.perform(named(key.removeprefix(CHOSEN)))

        heading = f"{self.mode.value}: every key; a click does the same"
        self.read(heading, help_parts(self.actions, ascii=self.desk.ascii), then)

    def do_glossary(self) -> None:
        self.read("The words of the trade", glossary_parts(self.texts))

    @property
    def texts(self) -> tuple[str, ...]:
        """What stands to be read now; the words of the trade begin with those used in it."""
        return ()

    def do_tour(self) -> None:
        from tutor.tui.tour_screen import TourScreen

        self.app.push_screen(TourScreen(self.desk))
        self.desk.keep_setting("toured", True)

    def show_tour_once(self) -> None:
        """The walk for whoever opens the tutor for the first time."""
        if not self.desk.setting("toured", self.desk.record is None):
            self.do_tour()

    def do_palette(self) -> None:
        """Everything that can be done now, to be found by its letters."""
        from tutor.tui.choice import Choice

        able = {action.name: action for action in self.actions if action.name != "palette"}
        wide = max(len(spelled_out(action.key_words, ascii=self.desk.ascii)) for action in able.values())
        names = [
            (name, f"{spelled_out(action.key_words, ascii=self.desk.ascii).ljust(wide)}  {action.words}")
            for name, action in able.items()
        ]

        def take(name: str | None) -> None:
            if name is not None:
                self.perform(able[name])

        self.app.push_screen(Choice("What is to be done?", names, enter="do it", ascii=self.desk.ascii), take)

    def do_quit(self) -> None:
        self.app.exit(0)

    def do_units(self) -> None:
        self.desk.change_unit()

    def do_theme(self) -> None:
        names = [each.name for each in PALETTES]
        if self.app.theme != PLAIN:
            chosen = PALETTES[(names.index(self.app.theme) + 1) % len(names)]
            self.app.theme = chosen.name
            self.desk.keep_setting("theme", chosen.name)
            self.said = f"Theme: {chosen.words}. d takes the next one."
        else:
            self.said = "NO_COLOR is set, so there are no colours to choose from."
