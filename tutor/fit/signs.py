"""Signs that can be asked for beside the folds: each reads one thing off the worn sleeve, with hands or tape."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tutor.fit.misfit import Misfit
from tutor.pattern.sleeve import Sleeve, level_of

ELBOW = "elbow"
NOTICED = 4.0
"""mm; what is off by less is not noticed by hand (this program's own choice)."""


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign. ``words`` says what is done to see it; ``said`` what is seen when the figure is under, about or over
    nought; ``read`` gives the figure of a misfit in mm."""

    name: str
    words: str
    said: tuple[str, str, str]
    read: Callable[[Misfit], float]
    level: str = ""
    """The level of the sleeve at which it is looked for, if at one; a sleeve that ends above it doesn't have it."""

    def is_on(self, sleeve: Sleeve) -> bool:
        """Whether the sleeve reaches to where it is looked for."""
        return not self.level or level_of(sleeve, self.level) is not None

    def way(self, misfit: Misfit) -> int:
        """-1, 0 or 1: which of the three the sign shows."""
        figure = self.read(misfit)
        return 0 if abs(figure) < NOTICED else (1 if figure > 0 else -1)

    def shows(self, misfit: Misfit) -> str:
        """What is seen."""
        return self.said[self.way(misfit) + 1]


SIGNS: dict[str, Sign] = {
    sign.name: sign
    for sign in (
        Sign(
            "pinch",
            "pinch the cloth at the upper arm",
            (
                "There is less to pinch than the wearing ease that was planned.",
                "There is as much to pinch as was planned.",
                "There is more to pinch than was planned.",
            ),
            lambda misfit: misfit.girth,
        ),
        Sign(
            "walk",
            "walk the cap round the armhole",
            (
                "The cap seam ends before the armhole does.",
                "The cap seam has the ease that the cloth takes up.",
                "The cap seam has more ease than the cloth takes up.",
            ),
            lambda misfit: misfit.ease_back + misfit.ease_front,
        ),
        Sign(
            "halves",
            "walk each half of the cap by itself",
            (
                "More of the cap ease lies in the back half than was planned.",
                "Front and back half share the cap ease as planned.",
                "More of the cap ease lies in the front half than was planned.",
            ),
            lambda misfit: misfit.ease_front - misfit.ease_back,
        ),
        Sign(
            "crosswise-yarn",
            "follow a crosswise yarn at the armpit",
            (
                "The yarn is drawn up at the outside of the arm.",
                "The yarn lies level.",
                "The yarn sags at the outside of the arm.",
            ),
            lambda misfit: misfit.cap_height,
        ),
        Sign(
            "lengthwise-yarn",
            "follow the lengthwise yarn down from the crown",
            (
                "The yarn runs ahead of the arm.",
                "The yarn runs straight down the arm to the elbow.",
                "The yarn falls behind the arm.",
            ),
            lambda misfit: misfit.pitch,
        ),
        Sign(
            "bend",
            "have the arm bent",
            (
                "The sleeve is tight over the bent elbow.",
                "The elbow has the room it needs.",
                "The elbow has room to spare.",
            ),
            lambda misfit: misfit.elbow,
            ELBOW,
        ),
    )
}
