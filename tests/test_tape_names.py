"""Names of measures on the tape: short where there is little room, but each still its own."""

import re

import pytest

from tutor.marking.figures import shown
from tutor.pattern.measures import MEASURES, Kind, kind_of, words_for
from tutor.practice.tape import TapeRow
from tutor.tui.tape_lines import NAMES, short_names, tape_lines
from tutor.units import Unit

PANELS = (36, 47, 57, 75)
"""Columns of the panel at 60, 80, 120 and 200 columns."""
FIGURES = {Kind.LENGTH: 415.9, Kind.ANGLE: 12.3, Kind.SHARE: 12.3, Kind.AREA: 12345.0}
"""As long to write as such figures get: 41.6 cm, 16 3/8 in."""


def _widest_row(measure: str, unit: Unit, shape: str) -> TapeRow:
    """A row of the tape with figures as wide as they get."""
    figure = FIGURES[kind_of(measure)]
    was, wanted = shown(measure, figure, unit), shown(measure, figure * 1.07, unit)
    asked = {"nothing": None, "one": wanted, "least": f"at least {wanted}", "two": f"{was} to {wanted}"}[shape]
    nearer = f"at least {was}" if shape == "two" else None
    off = None if asked is None else -figure
    return TapeRow(measure, words_for(measure), kind_of(measure), figure, figure, asked, off, False, nearer)


@pytest.mark.parametrize("ascii", [False, True])
@pytest.mark.parametrize("shape", ["nothing", "one", "least", "two"])
@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize("width", PANELS)
def test_every_measure_has_a_name_of_its_own_in_every_panel(width: int, unit: Unit, shape: str, ascii: bool) -> None:
    rows = [_widest_row(name, unit, shape) for name in MEASURES]
    lines = [text for text, _ in tape_lines(rows, unit, width, ascii=ascii)]
    assert {len(line) for line in lines} == {width}
    ways = [{short_names([name], most)[0] for most in range(NAMES, 60)} for name in MEASURES]
    told = [
        max((way for way in names if line.startswith(f"{way} ")), key=len)
        for line, names in zip(lines[1:], ways, strict=True)
    ]
    assert len(set(told)) == len(MEASURES)
    heading = lines[0].split()
    assert "now" in heading
    assert ("wanted" in heading) == (shape != "nothing")


PARTS = {
    "back": ("back", "bk.", "b1", "b2"),
    "front": ("front", "fr.", "f-b"),
    "underarm": ("underarm", "u/arm"),
    "side": ("side",),
    "armhole": ("armh",),
    "notch": ("notch",),
}
"""How a part of a measure's name can be told in short."""


@pytest.mark.parametrize("most", range(NAMES, 32))
def test_a_name_in_short_keeps_which_seam_and_which_side(most: int) -> None:
    words = dict(zip(MEASURES, short_names(list(MEASURES), most), strict=True))
    assert len(set(words.values())) == len(words)
    for name, short in words.items():
        assert len(short) <= most
        # Ends in no mark of being cut off.
        assert not short.endswith(("…", "~"))
        for part, ways in PARTS.items():
            if re.search(rf"\b{part}\b", name):
                assert any(way in short for way in ways), (name, short)


@pytest.mark.parametrize("unit", list(Unit))
@pytest.mark.parametrize("width", PANELS)
def test_back_and_front_are_shortened_alike(width: int, unit: Unit) -> None:
    rows = [_widest_row(name, unit, "least") for name in MEASURES]
    lines = [text for text, _ in tape_lines(rows, unit, width, ascii=False)][1:]
    told = dict(zip(MEASURES, lines, strict=True))
    for name in MEASURES:
        if name.endswith("-back") and (other := name.replace("-back", "-front")) in MEASURES:
            back, front = (re.split(r"[ ,]*(?:back|front|bk\.|fr\.) ", told[each])[0] for each in (name, other))
            assert back == front
