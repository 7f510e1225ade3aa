"""What lines, areas and marked places look like, and mean."""

from collections.abc import Iterable
from enum import Enum


class Look(Enum):
    """How a line or an area appears, and what it means. Later members are drawn over earlier ones."""

    # Enum's own is slow, and a picture asks for it thousands of times.
    __hash__ = object.__hash__

    GAP = "gap"
    OVERLAP = "overlap"
    GUIDE = "guide line"
    BEFORE = "before"
    ARMHOLE = "armhole"
    FOLD = "fold of the worn sleeve"
    PIECE = "piece as cut"
    AFTER = "after"
    SLASH = "slash"
    CANDIDATE = "line being placed"

    @property
    def is_area(self) -> bool:
        """Whether this look hatches a patch (otherwise it draws a stroke)."""
        return self in (Look.GAP, Look.OVERLAP)


class Sign(Enum):
    """What a marked place is, and means. Where two share a cell the later member is seen."""

    __hash__ = object.__hash__

    GRAIN = "grain"
    OPENING = "opening"
    UNDERARM = "underarm point"
    CROWN = "crown"
    NOTCH = "notch"
    THROUGH = "cut through"
    HINGE = "hinge"
    REFUSED = "refused here"
    MARKER = "your marker"

    def glyph(self, *, ascii: bool) -> str:
        """The one character standing for this sign: a single cell wide in every terminal."""
        return _GLYPHS[self][1 if ascii else 0]


Role = Look | Sign

# East Asian Width N or Na only (Unicode Standard Annex 11): ambiguous ones such as the white circle
# take two cells in some terminals.
_GLYPHS = {
    Sign.GRAIN: ("⇕", "I"),
    Sign.OPENING: ("Y", "Y"),
    Sign.UNDERARM: ("◊", "%"),
    Sign.CROWN: ("▴", "^"),
    Sign.NOTCH: ("▾", "v"),
    Sign.THROUGH: ("✕", "x"),
    Sign.HINGE: ("◉", "o"),
    Sign.REFUSED: ("!", "!"),
    Sign.MARKER: ("@", "@"),
}

# What a level line, or a wide area, looks like on eight cells: in braille, in ASCII.
_SAMPLES = {
    Look.GAP: ("⠁⠄⠁⠄⠁⠄⠁⠄", "........"),
    Look.OVERLAP: ("⡱⢎⡱⢎⡱⢎⡱⢎", "########"),
    Look.GUIDE: ("⠂   ⠂   ", "'   '   "),
    Look.BEFORE: ("⠒⠒⠒  ⠐⠒⠒", ":: :: ::"),
    Look.ARMHOLE: ("⠶⠶⠶⠶⠶⠶⠶⠶", "&&&&&&&&"),
    Look.FOLD: ("⠒⠒⠂⠒⠒⠂⠒⠒", "~~~~~~~~"),
    Look.PIECE: ("⠒⠒⠒⠒⠒⠒⠒⠂", "--------"),
    Look.AFTER: ("⠒⠒⠒⠒⠒⠒⠒⠒", "********"),
    Look.SLASH: ("⠒⠒⠒⠒⠂ ⠂ ", "+++ +++ "),
    Look.CANDIDATE: ("⠂⠐ ⠂⠐ ⠂⠐", "= = = = "),
}


def legend(roles: Iterable[Role], *, ascii: bool = False) -> list[tuple[str, str]]:
    """Explain the looks and signs that are present: one (sample, words) for each, in one fixed order.

    The sample of a look is eight cells long, that of a sign one.
    """
    present = set(roles)
    looks = [(_SAMPLES[look][1 if ascii else 0], look.value) for look in Look if look in present]
    signs = [(sign.glyph(ascii=ascii), sign.value) for sign in Sign if sign in present]
    return looks + signs
