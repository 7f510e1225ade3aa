"""A minute's walk round the tutor: its stops, each a state of a small piece of work and what is said of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from tutor.alteration.plan import Landmark, Opening, Plan, Slash
from tutor.lesson.lesson import Lesson
from tutor.lesson.reading import read_lesson
from tutor.picture.looks import Sign
from tutor.tui.marker import Marker, Track
from tutor.tui.placing import Placing

HEADING = "A minute's walk round the tutor"
PAPER = Path(__file__).with_name("walk-round.toml")
"""The lesson whose paper the walk is shown on."""
SLASH = Slash("A", Landmark("elbow-back"), Landmark("elbow-front"), end_hinge=True)
OPENED = Opening("A", 15.0, share=0.0)
NOTHING = Plan()


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop: what it is about, what is said, the plan as it then is, and whether marker and slash are walking."""

    heading: str
    text: str
    plan: Plan = NOTHING
    starts: bool = False
    ends: bool = False
    marked: bool = False

    def placing(self, track: Track) -> Placing | None:
        """The marker where a slash starts, or on its way to where it ends; None at the other stops."""
        start, end = track.at_landmark("elbow-back"), track.at_landmark("elbow-front")
        if start is None or end is None or not (self.starts or self.ends):
            return None
        placing = Placing(track, start)
        return replace(placing, marker=_on_the_way(end), first=start) if self.ends else placing


def stops(*, ascii: bool) -> tuple[Stop, ...]:
    """The stops, in their order."""
    crown, underarm, notch, grain, through, hinge = (
        sign.glyph(ascii=ascii)
        for sign in (Sign.CROWN, Sign.UNDERARM, Sign.NOTCH, Sign.GRAIN, Sign.THROUGH, Sign.HINGE)
    )
    cut, opened = Plan((SLASH,)), Plan((SLASH,), (OPENED,))
    return (
        Stop(
            "The paper",
            "The picture is a sleeve in its true proportions, its back to the left."
            f" {crown} is the crown, {underarm} the underarm points, {notch} the notches, {grain} the grain."
            " y tells what each mark means, here as well. In a lesson z goes closer.",
        ),
        Stop(
            "The tape",
            "Below are the measures: before, now, as the task wants them, and how far off. They follow every key."
            " i changes centimetres and inches.",
        ),
        Stop(
            "The marker",
            "s starts a slash, a line to cut along. The marker @ stands on the edge of the paper: arrows walk it,"
            " n goes to the next named place, g to one by its name. Enter sets where the slash starts.",
            starts=True,
        ),
        Stop(
            "The slash",
            f"Walk on, and the dotted line shows the slash before it is there. Enter cuts its end through {through};"
            f" h leaves a hinge {hinge}, which holds the paper. A mouse draws it in one go.",
            ends=True,
        ),
        Stop(
            "The plan",
            "What you have made is listed here. Arrows choose a line; + and - open the slash, Enter types how much."
            " [ and ] turn its ends into hinges or cut them, m and M move them, x takes it away.",
            cut,
        ),
        Stop(
            "The opening",
            "Opened, the paper turns on its hinge; dashed is what it was. Picture and tape show at once what it costs."
            " u takes any step back, all the way.",
            opened,
        ),
        Stop(
            "The mark",
            "Nothing is marked until you press c: then each goal is told with its figure, and what to do next."
            " h gives a hint; each of the three says more. w shows a worked solution.",
            opened,
            marked=True,
        ),
        Stop(
            "Leaving off",
            "All you do is kept, to the last key: leave with q at any time, and go on from there. ? shows every key"
            " that works at the moment, Ctrl+P finds what it does by a few letters, F2 is this walk.",
            opened,
        ),
    )


def paper() -> Lesson:
    """The lesson whose paper the walk is shown on. Raises Fault when the installation has lost it."""
    return read_lesson(PAPER)


def _on_the_way(end: Marker) -> Marker:
    """A little before the place where the slash will end."""
    return replace(end, along=end.along - 30)
