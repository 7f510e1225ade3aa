"""An alteration drawn in plain text, line by line."""

from __future__ import annotations

import shutil
import sys

from tutor.alteration.alter import Altered
from tutor.alteration.plan import Answer
from tutor.picture.chart import draw
from tutor.picture.scene import Window, legend
from tutor.picture.sheet import Armholes, View, scene_of
from tutor.units import Unit

MARGIN = 5.0
MOST_ROWS = 60


def print_picture(altered: Altered, unit: Unit, width: int | None, height: int | None, *, ascii: bool) -> None:
    """Prints the pattern before and after, in true proportion, with a legend of what is to be seen.

    The armholes stand beside the sleeve when the plan changes them. Without a size the picture is as large as the
    terminal; without braille in the output's encoding it is plain ASCII.
    """
    answered = altered.plan.back != Answer() or altered.plan.front != Answer()
    armholes = Armholes.BESIDE if answered else Armholes.HIDDEN
    scene = scene_of(altered.before, altered, view=View(armholes=armholes), unit=unit)
    columns, lines = shutil.get_terminal_size((80, 24))
    ascii = ascii or not _encodes_braille()
    chart = draw(
        scene,
        Window.fit(scene.bounds(), MARGIN),
        width or min(max(columns, 20), 500),
        height or min(max(lines - 2, 12), MOST_ROWS),
        ascii=ascii,
    )
    print()
    for line in chart.lines():
        print(line.rstrip())
    print()
    for sample, words in legend(scene.roles(), ascii=ascii):
        print(f"{sample:<4}  {words}")


def _encodes_braille() -> bool:
    try:
        "\N{BRAILLE PATTERN DOTS-12345678}".encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return False
    return True
