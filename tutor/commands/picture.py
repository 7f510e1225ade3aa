"""Patterns and alterations drawn in plain text, line by line."""

from __future__ import annotations

import argparse
import shutil
import sys

from tutor.alteration.alter import Altered
from tutor.alteration.amounts import given
from tutor.pattern.pattern import Pattern
from tutor.picture.chart import draw
from tutor.picture.looks import Look, legend
from tutor.picture.scene import Scene, Window
from tutor.picture.sheet import Armholes, View, scene_of
from tutor.units import Unit

MARGIN = 5.0
MOST_ROWS = 60


def print_altered(altered: Altered, unit: Unit, args: argparse.Namespace) -> None:
    """Prints the pattern before and after; the armholes stand beside the sleeve when the plan changes them."""
    answered = any(amount.means in ("armhole", "shoulder") for amount in given(altered.plan))
    armholes = Armholes.BESIDE if answered else Armholes.HIDDEN
    _print_scene(scene_of(altered.before, altered, view=View(armholes=armholes), unit=unit), args)


def print_pattern(pattern: Pattern, args: argparse.Namespace) -> None:
    """Prints a pattern as it lies, with the armholes beside the sleeve where it has any."""
    has_armholes = pattern.armhole_back is not None or pattern.armhole_front is not None
    armholes = Armholes.BESIDE if has_armholes else Armholes.HIDDEN
    _print_scene(scene_of(pattern, view=View(armholes=armholes)), args, after="seam")


def _print_scene(scene: Scene, args: argparse.Namespace, after: str = Look.AFTER.value) -> None:
    """Prints a scene in true proportion, with a legend of what is to be seen.

    ``after`` is what the seams as they are drawn are called. Without a size the picture is as large as the terminal;
    without braille in the output's encoding it is plain ASCII.
    """
    width, height, ascii = args.width, args.height, args.ascii
    columns, lines = shutil.get_terminal_size((80, 24))
    ascii = ascii or not encodes_braille()
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
    rows = legend(scene.roles(), ascii=ascii)
    widest = max((len(sample) for sample, _ in rows), default=0)
    for sample, words in rows:
        print(f"{sample:<{widest}}  {after if words == Look.AFTER.value else words}")


def encodes_braille() -> bool:
    try:
        "\N{BRAILLE PATTERN DOTS-12345678}".encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return False
    return True
