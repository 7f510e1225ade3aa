"""The parts of a lesson's screen: head, picture, panel, what to do next, keys."""

from __future__ import annotations

from functools import cached_property

from textual.app import ComposeResult

from tutor.tui.face import Face
from tutor.tui.foot import Foot
from tutor.tui.head import Head
from tutor.tui.picture import Picture
from tutor.tui.rows import Beside, Page
from tutor.tui.say import Say
from tutor.tui.side import Side
from tutor.tui.small import Small


class LessonPage(Face):
    """A lesson's screen as it is laid out; what stands in its parts is another's doing."""

    def compose(self) -> ComposeResult:
        yield Small()
        with Page(id="page"):
            yield Head(ascii=self.desk.ascii, id="head")
            with Beside(id="work"):
                yield Picture(ascii=self.desk.ascii, id="picture")
                yield Side(ascii=self.desk.ascii, id="side")
            yield Say(ascii=self.desk.ascii, id="say")
            yield Foot(ascii=self.desk.ascii, id="foot")

    # Looked for once, as every key asks for them.

    @cached_property
    def head(self) -> Head:
        return self.query_one(Head)

    @cached_property
    def picture(self) -> Picture:
        return self.query_one(Picture)

    @cached_property
    def side(self) -> Side:
        return self.query_one(Side)

    @cached_property
    def say(self) -> Say:
        return self.query_one(Say)

    def do_theme(self) -> None:
        super().do_theme()
        self.picture.repaint()
        self.side.repaint()
