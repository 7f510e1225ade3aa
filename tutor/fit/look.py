"""What folds look like to somebody who doesn't know yet what they come of: which way they run, on which half, where."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from tutor.fit.folds import Fold, Kind
from tutor.geometry.cubic import Complexes
from tutor.pattern.sleeve import Sleeve, level_of

Run = Literal["crosswise", "slanting", "upright", "from the seam"]
Half = Literal["back", "front", "both halves"]
Height = Literal["cap and upper arm", "elbow"]

LEVEL = 20.0
"""Degrees off level; folds that slope less run crosswise."""
UPRIGHT = 70.0
"""Degrees off level; folds that slope more run upright."""
SHORT = 47.0
"""mm; folds shorter than this that begin at the cap seam are puckers of the seam."""
AT_SEAM = 20.0
"""mm from the cap seam."""
REMEMBERED = 16
FEW = 3
"""Fewer puckers catch no eye."""
BELOW = ("at the elbow", "at the forearm")
ONE_SIDED = 0.25
"""A half with less than this share of all folds' length is without."""


@dataclass(frozen=True, slots=True)
class Look:
    """Which way folds run, on which half of the sleeve, and how far down."""

    run: Run
    half: Half
    height: Height = "cap and upper arm"

    @property
    def words(self) -> str:
        """The look in a few words: "slanting folds on both halves"."""
        what = "short puckers from the cap seam" if self.run == "from the seam" else f"{self.run} folds"
        where = self.half if self.half == "both halves" else f"the {self.half} half"
        return f"{what} on {where}{' at the elbow' if self.height == 'elbow' else ''}"


def look(found: Sequence[Fold], sleeve: Sleeve) -> Look | None:
    """What most of the folds, by length, look like; None when there are no folds.

    Puckers of the cap seam are short but catch the eye: where half of the folds are such, they are what is seen first.
    One half alone is named only if the folds lie there, and the elbow only if none to speak of lie above it.
    """
    if not found:
        return None
    by_run: dict[Run, list[Fold]] = {}
    for fold in found:
        by_run.setdefault(_run(fold, sleeve), []).append(fold)
    most = max(by_run, key=lambda run: _length(by_run[run]))
    if len(by_run.get("from the seam", ())) >= max(FEW, len(found) / 2):
        most = "from the seam"
    return Look(most, _half(by_run[most]), _height(by_run[most], sleeve))


def _length(found: Iterable[Fold]) -> float:
    return sum(fold.length for fold in found)


def _height(found: Sequence[Fold], sleeve: Sleeve) -> Height:
    above = _length(fold for fold in found if _where(fold, sleeve) not in BELOW)
    return "elbow" if above < ONE_SIDED * _length(found) else "cap and upper arm"


def _run(fold: Fold, sleeve: Sleeve) -> Run:
    if fold.kind is Kind.SLACK and fold.length < SHORT and _leaves_seam(fold, sleeve):
        return "from the seam"
    if fold.slope < LEVEL:
        return "crosswise"
    return "upright" if fold.slope > UPRIGHT else "slanting"


@lru_cache(maxsize=REMEMBERED)
def _cap_seam(sleeve: Sleeve) -> Complexes:
    """Points along the cap seam."""
    return np.concatenate([sleeve.cap_back.flatten(1.0), sleeve.cap_front.flatten(1.0)])


def _leaves_seam(fold: Fold, sleeve: Sleeve) -> bool:
    """Whether a fold begins at the cap seam and runs away from it, not along it."""
    seam = _cap_seam(sleeve)
    near, far = sorted(float(np.abs(seam - end).min()) for end in (fold.line[0], fold.line[-1]))
    return near < AT_SEAM and far - near > fold.length / 2


def _half(found: Sequence[Fold]) -> Half:
    front = sum(_in_front(fold.line) for fold in found)
    total = _length(found)
    if front < ONE_SIDED * total:
        return "back"
    return "front" if front > (1 - ONE_SIDED) * total else "both halves"


def _in_front(line: Complexes) -> float:
    """How much of a line, in mm, lies in front of the grain line."""
    x, pieces = line.real, np.abs(np.diff(line))
    low, high = np.minimum(x[1:], x[:-1]), np.maximum(x[1:], x[:-1])
    share = np.where(high > low, np.clip(high, 0, None) - np.clip(low, 0, None), high >= 0)
    return float((pieces * share / np.where(high > low, high - low, 1)).sum())


def folds_told(found: Sequence[Fold], sleeve: Sleeve, *, felt: bool = False) -> tuple[str, ...]:
    """The folds in sentences, for somebody who can't see the picture: how many, which way, on which half, and where.

    Whether they are taut or slack is not to be seen, but to be ``felt``.
    """
    told: dict[tuple[str, Run, Half, str], int] = {}
    for fold in found:
        cloth = ("taut " if fold.kind is Kind.PULL else "slack ") if felt else ""
        key = (cloth, _run(fold, sleeve), _half([fold]), _where(fold, sleeve))
        told[key] = told.get(key, 0) + 1
    return tuple(_sentence(number, *what) for what, number in told.items()) or ("No folds show.",)


def _sentence(number: int, cloth: str, run: Run, half: Half, where: str) -> str:
    many = f"{number} {cloth}folds run" if number > 1 else f"1 {cloth}fold runs"
    way = "out from the cap seam" if run == "from the seam" else run
    place = "across both halves" if half == "both halves" else f"on the {half} half"
    return f"{many} {way} {place}, {where}."


def _where(fold: Fold, sleeve: Sleeve) -> str:
    """Between which levels a fold lies, by its middle."""
    middle = float(fold.line.imag.mean())
    elbow = level_of(sleeve, "elbow")
    height = sleeve.crown.imag
    if middle > height * 0.35:
        return "in the cap"
    if elbow is None or middle > elbow / 2:
        return "at the upper arm"
    return "at the elbow" if middle > elbow * 1.5 else "at the forearm"
