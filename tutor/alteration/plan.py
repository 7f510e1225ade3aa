"""A plan of an alteration: where to slash, what holds, how far to open; and what the armhole answers."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

GREATEST = 10_000.0
"""mm; no amount and no place is believed beyond 10 m."""


def _check_place(*numbers: float) -> None:
    if not all(abs(number) <= GREATEST for number in numbers):
        raise ValueError(f"a place needs finite numbers of 10 m at most, not {numbers}")


def _check_amounts(what: str, *amounts: float) -> None:
    if not all(abs(amount) <= GREATEST for amount in amounts):
        raise ValueError(f"{what} needs amounts of 10 m at most, not {', '.join(map(str, amounts))}")


@dataclass(frozen=True, slots=True)
class Landmark:
    """A place by its name, one of ``Sleeve.landmarks()``."""

    name: str


@dataclass(frozen=True, slots=True)
class Along:
    """A place ``distance`` mm along a seam from its start, or from its end with ``from_end``."""

    seam: str
    distance: float
    from_end: bool = False

    def __post_init__(self) -> None:
        _check_place(self.distance)


@dataclass(frozen=True, slots=True)
class Share:
    """A place at a share, 0 to 1, of a seam's length from its start."""

    seam: str
    share: float

    def __post_init__(self) -> None:
        _check_place(self.share)


@dataclass(frozen=True, slots=True)
class At:
    """A place by its point, mm in the sleeve's frame; within 0.5 mm of an edge or a slash it is taken to be there."""

    point: complex

    def __post_init__(self) -> None:
        _check_place(self.point.real, self.point.imag)


@dataclass(frozen=True, slots=True)
class OnSlash:
    """A place on another slash, at a share, 0 to 1, of the way from that slash's start to its end."""

    slash: str
    share: float

    def __post_init__(self) -> None:
        if not 0 <= self.share <= 1:
            raise ValueError(f"a place on a slash is a share from 0 to 1 of it, not {self.share}")


Place: TypeAlias = Landmark | Along | Share | At | OnSlash


@dataclass(frozen=True, slots=True)
class Slash:
    """A straight slash from ``start`` to ``end``; at each end a hinge holds the paper, or it is cut through."""

    name: str
    start: Place
    end: Place
    start_hinge: bool = False
    end_hinge: bool = False


@dataclass(frozen=True, slots=True)
class Opening:
    """An opening of ``amount`` mm, + opens and - overlaps, at a share, 0 to 1, of the way along a slash.

    Or ``where`` names the slash that crosses there. At a crossing four pieces meet; ``toward``, "start" or "end",
    says on which side of it the opening is measured. Left empty: on the side whose end is hinged, if just one is,
    else on the longer side.
    """

    slash: str
    amount: float
    share: float = 0.5
    where: str = ""
    toward: str = ""

    def __post_init__(self) -> None:
        if not abs(self.amount) <= GREATEST or not 0 <= self.share <= 1:
            raise ValueError(
                f"an opening needs an amount of 10 m at most and a share from 0 to 1, not {self.amount}, {self.share}"
            )


@dataclass(frozen=True, slots=True)
class Answer:
    """What one armhole does: side seam moved out by ``widen``, underarm point lowered by ``lower``, mm."""

    widen: float = 0.0
    lower: float = 0.0

    def __post_init__(self) -> None:
        _check_amounts("an armhole", self.widen, self.lower)


@dataclass(frozen=True, slots=True)
class SeamChange:
    """What is added to one edge of the sleeve, mm: outwards at the underarm point, the elbow and the hem corner.

    Below zero it is taken away. ``up`` raises the underarm point.
    """

    bicep: float = 0.0
    elbow: float = 0.0
    hem: float = 0.0
    up: float = 0.0

    def __post_init__(self) -> None:
        _check_amounts("an underarm seam", self.bicep, self.elbow, self.hem, self.up)


@dataclass(frozen=True, slots=True)
class Shoulder:
    """Where the bodice's shoulder ends go, mm: ``forward``, from back armhole to front; ``up``, or down below zero."""

    forward: float = 0.0
    up: float = 0.0

    def __post_init__(self) -> None:
        _check_amounts("a shoulder", self.forward, self.up)


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole alteration. With ``set_back`` the cap is first lifted off along the bicep line and afterwards set back.

    Slashes then cut the lower part alone, whose upper edge is the seam ``bicep-line`` (back to front).

    When all that is done and trued, the rest follows, mm: what is added to the underarm seams; ``cap_raise``, the top
    of the cap redrawn higher; ``pitch``, the cap turned in its armhole, + towards the front, crown and notches moving
    to the back; ``crown_forward``, the crown alone moved along the cap seam to the front. ``amounts.py`` lists them.
    """

    slashes: tuple[Slash, ...] = ()
    openings: tuple[Opening, ...] = ()
    set_back: bool = False
    back: Answer = Answer()
    front: Answer = Answer()
    title: str = ""
    seam_back: SeamChange = SeamChange()
    seam_front: SeamChange = SeamChange()
    cap_raise: float = 0.0
    pitch: float = 0.0
    crown_forward: float = 0.0
    shoulder: Shoulder = Shoulder()

    def __post_init__(self) -> None:
        _check_amounts("a cap", self.cap_raise, self.pitch, self.crown_forward)
        names = [slash.name for slash in self.slashes]
        if len(set(names)) < len(names):
            raise ValueError("two slashes of a plan have the same name")

    def slash(self, name: str) -> Slash | None:
        """The slash of that name; None when there is none."""
        return next((slash for slash in self.slashes if slash.name == name), None)

    def with_amounts(self, *amounts: float) -> Plan:
        """The plan with its openings' amounts replaced in order."""
        openings = tuple(replace(o, amount=a) for o, a in zip(self.openings, amounts, strict=True))
        return replace(self, openings=openings)
