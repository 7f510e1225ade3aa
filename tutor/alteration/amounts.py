"""Every amount of a plan that needs no slash, in one list: plan files, records, the tutor and marking all go over it.

An amount added here can be written in a plan, solved for a result, set, taken back, kept, shown and told.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal

from tutor.alteration.plan import Plan

SIDES = ("back", "front")

Means = Literal["slashes", "set-back", "armhole", "pitch", "crown", "cap-top", "seams", "shoulder"]
MEANS: dict[Means, str] = {
    "slashes": "slashes",
    "set-back": "lifting the cap off",
    "seams": "a change of the underarm seams",
    "cap-top": "redrawing the top of the cap",
    "pitch": "turning the cap",
    "crown": "moving the crown mark",
    "shoulder": "a change of the shoulder",
    "armhole": "a change of the armhole",
}
"""What a task can allow, in words."""
BODICE: frozenset[Means] = frozenset({"armhole", "shoulder"})
"""Of these what is done to the bodice."""


@dataclass(frozen=True, slots=True)
class PlanAmount:
    """One amount of a plan, mm, 0 where nothing is done.

    ``key`` is what plan files call it, with dots between tables; ``fields`` lead to it in a Plan; ``words`` name it on
    a line of its own, on the piece or edge that ``on`` names, if it has one. Of the pairs the first is for amounts
    above zero, the second for those below: ``orders`` say what is done, with ``{}`` for the length; ``told`` what has
    been done, before the length; ``typed`` what is typed for it line by line, with ``SIDE`` for the side.
    ``tells`` is the measure that shows best how far it has gone; what is ``between`` the halves of cap or armhole gives
    the one what it takes from the other. ``meaning`` says it in a sentence.
    """

    key: str
    means: Means
    fields: tuple[str, ...]
    on: str
    words: str
    orders: tuple[str, str]
    told: tuple[str, str]
    typed: tuple[str, str]
    tells: str
    meaning: str
    between: bool = False

    @property
    def path(self) -> tuple[str, ...]:
        """The key as the names of a table in a table."""
        return tuple(self.key.split("."))

    @property
    def name(self) -> str:
        """The key as words, without the table that all amounts of the armhole are in: "back widen", "pitch"."""
        return self.key.removeprefix("armhole.").replace(".", " ")

    @property
    def side(self) -> str:
        """ "back" or "front", or nothing for an amount that has no sides."""
        return next((part for part in self.path if part in SIDES), "")

    @property
    def way(self) -> str:
        """The key's last part, the same for back and front."""
        return self.path[-1]

    @property
    def kind(self) -> str:
        """The key without its side: what amounts of back and front share."""
        return ".".join(part for part in self.path if part not in SIDES)

    @property
    def line(self) -> str:
        """The words of a line that has nothing around it: "back bodice, widen"."""
        return f"{self.on}, {self.words}" if self.on else self.words

    def read(self, plan: Plan) -> float:
        """The amount in a plan, mm."""
        value: Any = plan
        for field in self.fields:
            value = getattr(value, field)
        return float(value)

    def put(self, plan: Plan, mm: float) -> Plan:
        """The plan with this amount set. Raises ValueError beyond 10 m."""
        first, *rest = self.fields
        changes: dict[str, Any] = {first: replace(getattr(plan, first), **{rest[0]: mm}) if rest else mm}
        return replace(plan, **changes)


def _amounts() -> Iterator[PlanAmount]:
    for side in SIDES:
        yield from _seam(side)
    yield from _cap()
    yield from _shoulder()
    for side in SIDES:
        yield from _armhole(side)


def _seam(side: str) -> Iterator[PlanAmount]:
    for way, at, typed in (
        ("bicep", "at the underarm point", "underarm"),
        ("elbow", "at the elbow", "elbow"),
        ("hem", "at the hem", "hem"),
    ):
        yield PlanAmount(
            f"seam.{side}.{way}",
            "seams",
            (f"seam_{side}", way),
            f"{side} edge",
            f"out at the {typed}",
            (f"add {{}} {at}", f"take {{}} away {at}"),
            (f"out {at}", f"in {at}"),
            (f"add SIDE {typed}", f"take SIDE {typed}"),
            f"{way}-girth",
            f"added to the {side} edge {at}, the underarm seam redrawn smoothly",
        )
    yield PlanAmount(
        f"seam.{side}.up",
        "seams",
        (f"seam_{side}", "up"),
        f"{side} edge",
        "underarm up",
        ("raise the underarm point by {}", "lower the underarm point by {}"),
        ("underarm point up", "underarm point down"),
        ("underarm SIDE up", "underarm SIDE down"),
        f"underarm-seam-{side}",
        f"the sleeve's {side} underarm point so much higher",
    )


def _cap() -> Iterator[PlanAmount]:
    yield PlanAmount(
        "cap-raise",
        "cap-top",
        ("cap_raise",),
        "",
        "top of the cap, up",
        ("redraw the top of the cap {} higher", "redraw the top of the cap {} lower"),
        ("top of the cap up", "top of the cap down"),
        ("cap up", "cap down"),
        "cap-height",
        "the top of the cap redrawn so much higher, from the notches up",
    )
    yield PlanAmount(
        "pitch",
        "pitch",
        ("pitch",),
        "",
        "cap turned forward",
        (
            "turn the cap forward: mark crown and notches {} along the seam to the back",
            "turn the cap back: mark crown and notches {} along the seam to the front",
        ),
        ("cap turned forward", "cap turned back"),
        ("pitch forward", "pitch back"),
        "cap-seam-front",
        "the cap turned forward in its armhole: crown and notches go so far along the cap seam to the back",
        between=True,
    )
    yield PlanAmount(
        "crown-forward",
        "crown",
        ("crown_forward",),
        "",
        "crown mark forward",
        ("mark the crown {} along the cap seam to the front", "mark the crown {} along the cap seam to the back"),
        ("crown mark to the front", "crown mark to the back"),
        ("crown forward", "crown back"),
        "cap-seam-front",
        "the crown alone marked so far along the cap seam to the front; the notches stay",
        between=True,
    )


def _shoulder() -> Iterator[PlanAmount]:
    yield PlanAmount(
        "shoulder.forward",
        "shoulder",
        ("shoulder", "forward"),
        "bodice",
        "shoulder forward",
        (
            "move the shoulder {} forward, off the front armhole and on to the back",
            "move the shoulder {} back, off the back armhole and on to the front",
        ),
        ("shoulder forward", "shoulder back"),
        ("shoulder forward", "shoulder back"),
        "armhole-front",
        "the bodice's shoulder end moved forward: the front armhole gets so much shorter, the back longer",
        between=True,
    )
    yield PlanAmount(
        "shoulder.up",
        "shoulder",
        ("shoulder", "up"),
        "bodice",
        "shoulder ends up",
        ("raise both shoulder ends by {}", "lower both shoulder ends by {}"),
        ("shoulder ends up", "shoulder ends down"),
        ("shoulder up", "shoulder down"),
        "armhole",
        "both shoulder ends so much higher, for square shoulders; below zero lower, for sloping ones",
    )


def _armhole(side: str) -> Iterator[PlanAmount]:
    yield PlanAmount(
        f"armhole.{side}.widen",
        "armhole",
        (side, "widen"),
        f"{side} bodice",
        "widen",
        ("move the side seam out by {}", "move the side seam in by {}"),
        ("side seam out", "side seam in"),
        ("widen SIDE", "take-in SIDE"),
        f"armhole-{side}",
        f"the {side} side seam moved out",
    )
    yield PlanAmount(
        f"armhole.{side}.lower",
        "armhole",
        (side, "lower"),
        f"{side} bodice",
        "lower",
        ("lower the underarm by {}", "raise the underarm by {}"),
        ("underarm down", "underarm up"),
        ("lower SIDE", "raise SIDE"),
        f"armhole-{side}",
        f"the bodice's {side} underarm point moved down; below zero up",
    )


AMOUNTS: tuple[PlanAmount, ...] = tuple(_amounts())
BY_KEY = {amount.key: amount for amount in AMOUNTS}
BY_NAME = {amount.name: amount for amount in AMOUNTS}


def given(plan: Plan) -> tuple[PlanAmount, ...]:
    """The amounts that a plan has anything of."""
    return tuple(amount for amount in AMOUNTS if amount.read(plan))


def means_used(plan: Plan) -> tuple[Means, ...]:
    """The means that a plan makes use of."""
    used = {"slashes": bool(plan.slashes), "set-back": plan.set_back}
    used |= {amount.means: True for amount in given(plan)}
    return tuple(means for means in MEANS if used.get(means))


def of_means(means: Iterable[str]) -> tuple[PlanAmount, ...]:
    """The amounts that any of these means allows."""
    allowed = set(means)
    return tuple(amount for amount in AMOUNTS if amount.means in allowed)


def without(plan: Plan, means: Means) -> Plan:
    """The plan without the amounts that these means allow."""
    return times(plan, 0.0, of_means([means]))


def times(plan: Plan, factor: float, amounts: Iterable[PlanAmount] = AMOUNTS) -> Plan:
    """The plan with these amounts multiplied."""
    for amount in amounts:
        if value := amount.read(plan):
            plan = amount.put(plan, factor * value)
    return plan
