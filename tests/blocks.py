"""Invented sleeves, bodices and plans that several tests share, and hypothesis strategies for more of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from hypothesis import strategies as st

from tutor.alteration.amounts import AMOUNTS, PlanAmount
from tutor.alteration.plan import Along, Answer, At, Landmark, OnSlash, Opening, Place, Plan, Share, Slash
from tutor.alteration.refusal import Refusal
from tutor.geometry.curve import Curve
from tutor.pattern.armhole import Armhole
from tutor.pattern.pattern import Pattern
from tutor.pattern.sleeve import SEAMS, Mark, Sleeve

T = TypeVar("T")

OTHER_SEAM = {
    "cap-back": "cap-front",
    "cap-front": "cap-back",
    "underarm-front": "underarm-back",
    "underarm-back": "underarm-front",
    "hem": "hem",
}


def half_cap(half: float, cap: float, flat: float = 0.5, steep: float = 0.5) -> Curve:
    """The S of half a cap, underarm point (-half, 0) to crown (0, cap), level at both ends.

    ``flat`` and ``steep`` are the handles' shares of ``half``, at the underarm point and at the crown.
    """
    return Curve.bezier(-half, -half * (1 - flat), complex(-half * steep, cap), complex(0, cap))


def lopsided(
    back: float = 176.0,
    front: float = 163.0,
    cap: float = 142.0,
    down: float = 436.0,
    hem_back: float = 112.0,
    hem_front: float = 104.0,
    elbow: float = 0.48,
    flat: float = 0.5,
    steep: float = 0.5,
) -> Sleeve:
    """A sleeve whose back and front differ, the grain from the crown straight down, with the usual three notches."""
    corner_back, corner_front = complex(-hem_back, -down), complex(hem_front, -down)
    return Sleeve(
        half_cap(back, cap, flat, steep),
        half_cap(front, cap, steep=steep, flat=flat).mirrored().reversed(),
        Curve.line(front, corner_front),
        Curve.line(corner_front, corner_back),
        Curve.line(corner_back, -back),
        (
            Mark("notch-front", "cap-front", 0.62),
            Mark("notch-back-1", "cap-back", 0.36),
            Mark("notch-back-2", "cap-back", 0.41),
            Mark("elbow-front", "underarm-front", elbow),
            Mark("elbow-back", "underarm-back", 1 - elbow),
        ),
        (100j, -400j),
    )


def symmetric(half: float = 170.0, cap: float = 145.0, down: float = 430.0, hem: float = 105.0) -> Sleeve:
    """A sleeve whose halves mirror each other; the defaults are the sleeve of the crossed-slash table."""
    return lopsided(half, half, cap, down, hem, hem)


def armhole(side: str, depth: float = 215.0, width: float = 78.0) -> Armhole:
    """One bodice piece's armhole, its side seam 190 mm long, a notch a third of the way up."""
    sign = 1.0 if side == "front" else -1.0
    across = complex(0, depth * 0.45)
    under = complex(width, 0)
    low = Curve.bezier(under, under - 0.62 * width, across - 0.25j * depth, across)
    high = Curve.bezier(across, across + 0.2j * depth, complex(0.03 * width, depth * 0.8), complex(0.1 * width, depth))
    seam = Curve.join([low, high])
    notches = ("notch-front",) if side == "front" else ("notch-back-1", "notch-back-2")
    side_seam = Curve.line(under, under - 5 - 190j)
    found = Armhole(
        side,
        seam,
        1.0,
        side_seam,
        tuple(Mark(name, "armhole", 0.55 + 0.1 * k) for k, name in enumerate(notches)),
    )
    return found if sign > 0 else replace(found, seam=seam.mirrored(), side_seam=side_seam.mirrored())


def pattern(sleeve: Sleeve | None = None) -> Pattern:
    """A sleeve with both armholes."""
    return Pattern(sleeve or lopsided(), armhole("back"), armhole("front"))


def crossed(opening: float, crown_gap: float | None = None) -> Plan:
    """Crossed slashes: the grain line from crown to hem, hinged at the hem, and the bicep line, hinged at both ends.

    The crown is hinged too, or with ``crown_gap`` cut through and parted by that much.
    """
    openings = [Opening("grain", opening, where="bicep", toward="end")]
    if crown_gap is not None:
        openings.append(Opening("grain", crown_gap, share=0))
    grain = Slash("grain", Landmark("crown"), Landmark("grain-hem"), crown_gap is None, True)
    bicep = Slash("bicep", Landmark("underarm-back"), Landmark("underarm-front"), True, True)
    return Plan((grain, bicep), tuple(openings))


def amounts(most: float = 30.0) -> st.SearchStrategy[Plan]:
    """Plans with some of the amounts that need no slash, each up to ``most`` mm either way."""
    some = st.dictionaries(st.sampled_from(AMOUNTS), _number(-most, most), min_size=1, max_size=6)

    def plan(chosen: dict[PlanAmount, float]) -> Plan:
        found = Plan()
        for amount, mm in chosen.items():
            found = amount.put(found, mm)
        return found

    return some.map(plan)


def tried(make: Callable[[], T]) -> T | Refusal:
    """What a call gives, be it a refusal."""
    try:
        return make()
    except Refusal as refusal:
        return refusal


def mirrored_place(place: Place) -> Place:
    """The same place on the mirrored sleeve, for plans on whole sleeves."""
    match place:
        case Landmark(name):
            return Landmark(name.replace("front", "?").replace("back", "front").replace("?", "back"))
        case Along(seam, distance, from_end):
            return Along(OTHER_SEAM[seam], distance, not from_end)
        case Share(seam, share):
            return Share(OTHER_SEAM[seam], 1 - share)
        case At(point):
            return At(-point.conjugate())
        case OnSlash():
            return place


def mirrored_plan(plan: Plan) -> Plan:
    """The same plan for the mirrored sleeve."""
    slashes = tuple(
        replace(slash, start=mirrored_place(slash.start), end=mirrored_place(slash.end)) for slash in plan.slashes
    )
    return replace(
        plan,
        slashes=slashes,
        back=plan.front,
        front=plan.back,
        seam_back=plan.seam_front,
        seam_front=plan.seam_back,
        pitch=-plan.pitch,
        crown_forward=-plan.crown_forward,
        shoulder=replace(plan.shoulder, forward=-plan.shoulder.forward),
    )


def reversed_slash(plan: Plan, name: str) -> Plan:
    """The same plan with one slash named from its other end."""

    def place(place: Place) -> Place:
        return OnSlash(name, 1 - place.share) if isinstance(place, OnSlash) and place.slash == name else place

    def turned(slash: Slash) -> Slash:
        start, end = place(slash.start), place(slash.end)
        if slash.name != name:
            return replace(slash, start=start, end=end)
        return Slash(name, end, start, slash.end_hinge, slash.start_hinge)

    other_way = {"start": "end", "end": "start", "": ""}
    openings = tuple(
        replace(o, share=1 - o.share, toward=other_way[o.toward]) if o.slash == name else o for o in plan.openings
    )
    return replace(plan, slashes=tuple(map(turned, plan.slashes)), openings=openings)


def _number(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


@st.composite
def sleeves(draw: st.DrawFn) -> Sleeve:
    """Sleeves of all sizes from a child's to a large adult's, back and front different, smooth at the crown.

    Their seams may be chains of several cubics, cut anywhere, and their underarm seams and hems may be curved.
    """
    back, front = draw(_number(90, 240)), draw(_number(90, 240))
    sleeve = lopsided(
        back,
        front,
        cap=draw(_number(0.5, 0.95)) * min(back, front),
        down=draw(_number(150, 520)),
        hem_back=draw(_number(0.4, 1.1)) * back,
        hem_front=draw(_number(0.4, 1.1)) * front,
        elbow=draw(_number(0.3, 0.7)),
        flat=draw(_number(0.2, 0.6)),
        steep=draw(_number(0.3, 0.6)),
    )
    curves = {name: draw(_bent(name, sleeve.seam(name))) for name in SEAMS}
    marks = sleeve.marks
    for name, (whole, cut) in curves.items():
        marks = tuple(replace(m, u=_place_on(cut, m.u)) if m.seam == name else m for m in marks)
        curves[name] = whole, cut
    sleeve = sleeve.with_seams({n: Curve.join(w.cut(c)) if c else w for n, (w, c) in curves.items()}, marks)
    return sleeve.framed()


@st.composite
def _bent(draw: st.DrawFn, name: str, seam: Curve) -> tuple[Curve, list[float]]:
    """A seam, if no cap seam bowed a little; and places where a joint is put in, which leaves its shape alone."""
    if not name.startswith("cap"):
        across = 1j * (seam.end - seam.start)
        controls = seam.controls.copy()
        controls[0, 1] += draw(_number(-0.04, 0.04)) * across
        controls[0, 2] += draw(_number(-0.04, 0.04)) * across
        seam = Curve(controls)
    return seam, draw(st.lists(st.sampled_from([0.15, 0.3, 0.5, 0.75, 0.9]), max_size=2, unique=True).map(sorted))


def _place_on(cut: Sequence[float], u: float) -> float:
    """A place of a single cubic on the chain that it is once cut."""
    bounds = [0.0, *cut, 1.0]
    k = max(k for k in range(len(bounds) - 1) if bounds[k] <= u)
    return k + (u - bounds[k]) / (bounds[k + 1] - bounds[k])


CAP = ("cap-back", "cap-front")
OPENINGS = _number(-25, 40)


@st.composite
def _cap_share(draw: st.DrawFn, low: float = 0.08, high: float = 0.92) -> Share:
    return Share(draw(st.sampled_from(CAP)), draw(_number(low, high)))


@st.composite
def wedges(draw: st.DrawFn) -> Plan:
    """One to four slashes from the cap to the hem that don't cross, each hinged at one end and opened at the other."""
    count = draw(st.integers(1, 4))
    tops = sorted(draw(st.lists(st.integers(2, 38), min_size=count, max_size=count, unique=True)))
    ends = sorted(draw(st.lists(st.integers(2, 38), min_size=count, max_size=count, unique=True)), reverse=True)
    at_hem = draw(st.booleans())
    slashes, openings = [], []
    for k, (top, end) in enumerate(zip(tops, ends, strict=True)):
        seam = "cap-back" if top < 20 else "cap-front"
        share = (top + 0.5) / 20 - (top >= 20)
        start, stop = Share(seam, min(max(share, 0.0), 1.0)), Share("hem", end / 40)
        slashes.append(Slash(f"s{k}", start, stop, not at_hem, at_hem))
        openings.append(
            Opening(f"s{k}", draw(OPENINGS), share=draw(_number(0, 0.5)) if at_hem else draw(_number(0.5, 1)))
        )
    return Plan(tuple(slashes), tuple(openings))


@st.composite
def parallels(draw: st.DrawFn) -> Plan:
    """One or two slashes from underarm seam to underarm seam, or from cap to hem, opened by amounts at both ends."""
    across = draw(st.booleans())
    slashes, openings = [], []
    for k, share in enumerate(sorted(draw(st.lists(st.integers(1, 9), min_size=1, max_size=2, unique=True)))):
        if across:
            start: Place = Share("underarm-back", 1 - share / 10)
            end: Place = Share("underarm-front", share / 10)
        else:
            start = Share("cap-back" if share < 5 else "cap-front", (share % 5 + 0.5) / 5.5)
            end = Share("hem", 1 - share / 10)
        amount = draw(OPENINGS)
        other = amount if draw(st.booleans()) else amount + draw(_number(-8, 8))
        slashes.append(Slash(f"s{k}", start, end))
        openings += [Opening(f"s{k}", amount, share=0), Opening(f"s{k}", other, share=1)]
    return Plan(tuple(slashes), tuple(openings))


@st.composite
def crossings(draw: st.DrawFn) -> Plan:
    """The grain and the bicep line slashed across each other, the crown hinged or parted."""
    opening = draw(_number(1, 45))
    gap = draw(st.none() | _number(0, 1).map(lambda share: share * opening))
    return crossed(opening, gap)


@st.composite
def tees(draw: st.DrawFn) -> Plan:
    """A slash from underarm to underarm, and one from the cap or the hem that ends on it."""
    level = draw(st.integers(2, 8)) / 10
    across = Slash("across", Share("underarm-back", 1 - level), Share("underarm-front", level), True, False)
    share = draw(_number(0.2, 0.8))
    top = draw(st.booleans())
    start: Place = draw(_cap_share(0.4)) if top else Share("hem", 1 - draw(_number(0.2, 0.8)))
    stem = Slash("stem", start, OnSlash("across", share), False, True)
    return Plan(
        (across, stem),
        (Opening("across", draw(_number(0, 25)), share=1), Opening("stem", draw(_number(0, 25)), share=0)),
    )


@st.composite
def triples(draw: st.DrawFn) -> Plan:
    """Three slashes from cap to hem of which at least two cross, with hinges and openings anywhere."""
    tops = draw(st.lists(_number(0.1, 0.9), min_size=3, max_size=3))
    ends = draw(st.lists(_number(0.1, 0.9), min_size=3, max_size=3))
    seams = draw(st.lists(st.sampled_from(CAP), min_size=3, max_size=3))
    slashes = tuple(
        Slash(f"s{k}", Share(seams[k], tops[k]), Share("hem", ends[k]), draw(st.booleans()), draw(st.booleans()))
        for k in range(3)
    )
    openings = draw(
        st.lists(st.builds(Opening, st.sampled_from(["s0", "s1", "s2"]), _number(-15, 25), _number(0, 1)), max_size=4)
    )
    return Plan(slashes, tuple(openings))


@st.composite
def answers(draw: st.DrawFn, plan: Plan) -> Plan:
    """The plan with amounts for the armholes."""
    back, front = (Answer(draw(_number(-5, 12)), draw(_number(-5, 12))) for _ in range(2))
    return replace(plan, back=back, front=front)


def sound_plans() -> st.SearchStrategy[Plan]:
    """Plans that a person might well try."""
    return st.one_of(wedges(), parallels(), crossings(), tees(), triples()).flatmap(answers)


@st.composite
def wild_plans(draw: st.DrawFn) -> Plan:
    """Any slashes between any places at all, with any hinges and openings."""
    names = [f"s{k}" for k in range(draw(st.integers(1, 4)))]
    landmarks = ("crown", "underarm-back", "underarm-front", "hem-front", "hem-back", "grain-hem", "notch-front")
    on_edge = st.one_of(
        st.builds(Share, st.sampled_from(SEAMS), _number(0, 1)), st.builds(Landmark, st.sampled_from(landmarks))
    )
    anywhere = st.one_of(
        st.builds(OnSlash, st.sampled_from(names), st.sampled_from([0.0, 1.0]) | _number(0, 1)),
        st.builds(At, st.builds(complex, st.integers(-200, 200), st.integers(-450, 150))),
    )
    place = st.one_of(on_edge, on_edge, on_edge, anywhere)
    slashes = [Slash(name, draw(place), draw(place), draw(st.booleans()), draw(st.booleans())) for name in names]
    openings = [Opening(name, draw(_number(-30, 60)), draw(_number(0, 1))) for name in names if draw(st.booleans())]
    more = st.builds(
        Opening, st.sampled_from(names), _number(-60, 120), _number(0, 1), st.sampled_from(["", "", "", *names])
    )
    openings += draw(st.lists(more, max_size=2))
    return Plan(tuple(slashes), tuple(openings), set_back=draw(st.integers(0, 3)) == 3)
