"""Colours: every text and every line of a theme, on the grounds they lie on. None carries meaning by itself."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from rich.style import Style
from textual.theme import Theme

from tutor.picture.looks import Look, Role, Sign

DEFAULT = "night"
PLAIN = "plain"


@dataclass(frozen=True, slots=True)
class Palette:
    """One theme's colours as #rrggbb: two grounds (page, bar), texts on them, and the lines of the picture.

    Texts keep 4.5 to 1 and lines 3 to 1 against both grounds (WCAG 2.2, 1.4.3 and 1.4.11).
    """

    name: str
    words: str
    dark: bool
    page: str
    bar: str
    text: str
    quiet: str
    strong: str
    good: str
    bad: str
    chosen: str
    """Text in reverse: page-coloured on this."""
    line: str
    faint: str
    slash: str
    paper: str
    bodice: str

    @property
    def texts(self) -> dict[str, str]:
        """Colours that words are written in."""
        return {
            "text": self.text,
            "quiet": self.quiet,
            "strong": self.strong,
            "good": self.good,
            "bad": self.bad,
            "chosen": self.chosen,
        }

    @property
    def lines(self) -> dict[str, str]:
        """Colours that only lines and areas are drawn in."""
        return {
            "line": self.line,
            "faint": self.faint,
            "slash": self.slash,
            "paper": self.paper,
            "bodice": self.bodice,
        }

    def theme(self) -> Theme:
        """The palette as Textual takes it; style sheets use the names of ``texts``, and page and bar."""
        variables = self.texts | {"page": self.page, "bar": self.bar}
        # Parts of Textual that the style sheet doesn't reach, such as the palette's list, take these.
        variables |= {
            "border": self.quiet,
            "border-blurred": self.quiet,
            "block-cursor-foreground": self.page,
            "block-cursor-background": self.chosen,
            "block-cursor-text-style": "bold",
            "block-hover-background": self.bar,
            "block-cursor-blurred-foreground": self.text,
            "block-cursor-blurred-background": self.bar,
            "input-cursor-background": self.text,
            "input-cursor-foreground": self.page,
            "input-selection-background": self.bar,
            "scrollbar": self.quiet,
            "scrollbar-hover": self.text,
            "scrollbar-active": self.text,
            "scrollbar-background": self.bar,
            "scrollbar-background-hover": self.bar,
            "scrollbar-background-active": self.bar,
            "scrollbar-corner-color": self.bar,
            "text-muted": self.quiet,
            "text-disabled": self.quiet,
        }
        return Theme(
            name=self.name,
            primary=self.strong,
            secondary=self.quiet,
            accent=self.strong,
            warning=self.bad,
            error=self.bad,
            success=self.good,
            foreground=self.text,
            background=self.page,
            surface=self.page,
            panel=self.bar,
            dark=self.dark,
            text_alpha=1.0,
            variables=variables,
        )

    def style(self, role: Role | None) -> Style:
        """How a part of the picture is painted."""
        colour, bold = self._colours().get(role, (self.line, False))
        return Style(color=colour, bgcolor=self.page, bold=bold)

    def _colours(self) -> dict[Role | None, tuple[str, bool]]:
        return {
            None: (self.line, False),
            Look.GAP: (self.paper, False),
            Look.OVERLAP: (self.paper, False),
            Look.GUIDE: (self.faint, False),
            Look.BEFORE: (self.faint, False),
            Look.ARMHOLE: (self.bodice, False),
            Look.FOLD: (self.paper, False),
            Look.PIECE: (self.line, False),
            Look.AFTER: (self.line, False),
            Look.SLASH: (self.slash, False),
            Look.CANDIDATE: (self.slash, True),
            Sign.GRAIN: (self.text, False),
            Sign.OPENING: (self.strong, True),
            Sign.UNDERARM: (self.text, True),
            Sign.CROWN: (self.text, True),
            Sign.NOTCH: (self.text, False),
            Sign.THROUGH: (self.strong, True),
            Sign.HINGE: (self.strong, True),
            Sign.REFUSED: (self.bad, True),
            Sign.MARKER: (self.good, True),
        }


PALETTES = (
    Palette(
        name="night",
        words="dark",
        dark=True,
        page="#14171c",
        bar="#252b35",
        text="#e4e6ea",
        quiet="#a9b1be",
        strong="#ffc66b",
        good="#8fd694",
        bad="#ff9d96",
        chosen="#ffc66b",
        line="#e4e6ea",
        faint="#8f98a8",
        slash="#ffb347",
        paper="#6fb7d6",
        bodice="#b7a4e8",
    ),
    Palette(
        name="day",
        words="light",
        dark=False,
        page="#fbfaf6",
        bar="#e9e6dc",
        text="#1f2328",
        quiet="#565d66",
        strong="#7c4a00",
        good="#1d6330",
        bad="#a3211b",
        chosen="#7c4a00",
        line="#1f2328",
        faint="#767b83",
        slash="#9a4f00",
        paper="#1f6f94",
        bodice="#5d44a8",
    ),
    Palette(
        name="contrast",
        words="high contrast",
        dark=True,
        page="#000000",
        bar="#000000",
        text="#ffffff",
        quiet="#e0e0e0",
        strong="#ffe14d",
        good="#7dff8a",
        bad="#ffb3b3",
        chosen="#ffe14d",
        line="#ffffff",
        faint="#c4c4c4",
        slash="#ffe14d",
        paper="#7fdcff",
        bodice="#d8c6ff",
    ),
)


def plain_theme() -> Theme:
    """The theme without colours: the terminal's own foreground and background, and nothing else."""
    default = "ansi_default"
    names = ("text", "quiet", "strong", "good", "bad", "chosen", "page", "bar")
    textual = (
        "ansi-background",
        "ansi-foreground",
        "border",
        "border-blurred",
        "block-cursor-foreground",
        "block-cursor-background",
        "block-hover-background",
        "block-cursor-blurred-foreground",
        "block-cursor-blurred-background",
        "scrollbar",
        "scrollbar-hover",
        "scrollbar-active",
        "scrollbar-background",
        "scrollbar-background-hover",
        "scrollbar-background-active",
        "scrollbar-corner-color",
    )
    return Theme(
        name=PLAIN,
        ansi=True,
        primary=default,
        secondary=default,
        accent=default,
        warning=default,
        error=default,
        success=default,
        foreground=default,
        background=default,
        surface=default,
        panel=default,
        boost=default,
        variables=dict.fromkeys((*names, *textual), default),
    )


def palette(name: str) -> Palette | None:
    """The palette of a theme; None for the theme without colours, and any other."""
    return next((each for each in PALETTES if each.name == name), None)


@cache
def painted(name: str, role: Role | None) -> Style:
    """How a part of the picture is painted in a theme."""
    colours = palette(name)
    if colours is not None:
        return colours.style(role)
    bold = isinstance(role, Sign) or role is Look.CANDIDATE
    return Style(bold=bold)


@cache
def written(name: str, style: str) -> Style:
    """A text's style in a theme, from words as style sheets have them: ``bold $page on $chosen``."""
    words = style.split()
    bold = "bold" in words
    named = [word.removeprefix("$") for word in words if word.startswith("$")]
    colours = palette(name)
    if colours is None:
        # Without colours, what stands on a ground of its own stands in reverse.
        return Style(bold=bold, reverse="on" in words)
    known = colours.texts | {"page": colours.page, "bar": colours.bar}
    ground = known[named[1]] if "on" in words else colours.page
    return Style(color=known[named[0]], bgcolor=ground, bold=bold)
