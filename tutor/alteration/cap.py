"""The cap as one seam, underarm point to underarm point: its top redrawn, its crown and its notches moved along it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tutor.alteration.plan import Plan
from tutor.alteration.refusal import NO_ROOM, Refusal, length
from tutor.geometry.carry import carry_end, carry_start
from tutor.geometry.curve import Curve
from tutor.geometry.joints import jointed
from tutor.pattern.sleeve import CAP_TOP, Mark, Sleeve

SEAMS = ("cap-back", "cap-front")
SETTLED = 1e-9
"""mm along the seam; a crown that comes back as near as this to the top of the cap is the top again."""
ROOM = 0.9
"""The share of what there is that can be used up: the rest is left to draw a seam with."""
HIGHEST_BLEND = 2 / 3
"""The top of a cap is redrawn from the uppermost notch, but from no higher than this share of its half."""


@dataclass(frozen=True, slots=True)
class Cap:
    """The cap of a sleeve: ``seam`` runs from the back underarm point over the crown to the front one.

    ``crown``, ``top`` and the notches are places u of it; ``top`` is where the cap height is measured to.
    """

    seam: Curve
    crown: float
    top: float
    notches: tuple[Mark, ...]

    @classmethod
    def of(cls, sleeve: Sleeve) -> Cap:
        """The cap of a sleeve, its two seams as one."""
        size = len(sleeve.cap_back)
        shift = {"cap-back": 0, "cap-front": size}
        mark = sleeve.mark(CAP_TOP)
        top = float(size) if mark is None else mark.u + shift[mark.seam]
        notches = tuple(replace(notch, u=notch.u + shift[notch.seam]) for notch in sleeve.notches)
        return cls(Curve.join([sleeve.cap_back, sleeve.cap_front]), float(size), top, notches)

    def on(self, sleeve: Sleeve) -> Sleeve:
        """The sleeve with this cap."""
        halves = jointed(self.seam, [self.crown])
        crown = halves.joint(self.crown)
        rows = halves.curve.controls

        def mark(name: str, u: float, side: str = "") -> Mark:
            place = halves.place(u)
            back = side == "cap-back" if side else place < crown
            place, most = (place, crown) if back else (place - crown, len(rows) - crown)
            return Mark(name, SEAMS[0] if back else SEAMS[1], min(max(place, 0.0), float(most)))

        fresh = {notch.name: mark(notch.name, notch.u, notch.seam) for notch in self.notches}
        marks = [fresh.get(old.name, old) for old in sleeve.marks if old.name != CAP_TOP]
        apart = abs(self.seam.distance_at(self.top) - self.seam.distance_at(self.crown)) > SETTLED
        marks += [mark(CAP_TOP, self.top)] if apart else []
        return replace(sleeve, cap_back=Curve(rows[:crown]), cap_front=Curve(rows[crown:]), marks=tuple(marks))

    def raised(self, by: float) -> Cap:
        """The top of the cap redrawn so that it lies ``by`` mm higher, each half from its uppermost notch up."""
        first, last = self._blend("cap-back"), self._blend("cap-front")
        self._check_height(by, first, last)
        found = jointed(self.seam, [first, self.top, last])
        a, b, c = (found.joint(u) for u in (first, self.top, last))
        rows = found.curve.controls
        up = carry_end(Curve(rows[a:b]), 1j * by)
        down = carry_start(Curve(rows[b:c]), 1j * by)
        new = found.with_rows([Curve(rows[:a]), up, down, Curve(rows[c:])])
        notches = tuple(replace(notch, u=new.place(notch.u)) for notch in self.notches)
        return Cap(new.curve, new.place(self.crown), new.place(self.top), notches)

    def turned(self, pitch: float, crown_forward: float) -> Cap:
        """Crown and notches moved ``pitch`` mm along the seam towards the back, and the crown to the front again."""
        far = {notch.name: self.seam.distance_at(notch.u) for notch in self.notches}
        crown = self.seam.distance_at(self.crown)
        whole = self.seam.length()
        self._check_turn(pitch, crown_forward, far, crown, whole)
        notches = tuple(replace(notch, u=self.seam.at_distance(far[notch.name] - pitch)) for notch in self.notches)
        return replace(self, crown=self.seam.at_distance(crown - pitch + crown_forward), notches=notches)

    def _blend(self, side: str) -> float:
        """The place from which the top of one half is redrawn."""
        end = 0.0 if side == "cap-back" else float(len(self.seam))
        half = self.top - end
        shares = [(notch.u - end) / half for notch in self.notches if notch.seam == side]
        return end + min(max(shares, default=0.5), HIGHEST_BLEND) * half

    def _check_height(self, by: float, first: float, last: float) -> None:
        top = self.seam.point(self.top)
        most = ROOM * min(top.imag - self.seam.point(u).imag for u in (first, last))
        if -by > most:
            what = f"the cap can't be lowered by {length(-by)}; {length(max(most, 0.0))} is the most above its notches"
            raise Refusal(NO_ROOM, what, piece="the cap", place=top)

    def _check_turn(self, pitch: float, forward: float, far: dict[str, float], crown: float, whole: float) -> None:
        """Refuses a turn that takes a notch round an underarm point, or the crown past a notch."""
        low = min((far[n.name] for n in self.notches if n.seam == "cap-back"), default=ROOM * crown)
        high = max((far[n.name] for n in self.notches if n.seam == "cap-front"), default=whole - ROOM * (whole - crown))
        top_back = max((far[n.name] for n in self.notches if n.seam == "cap-back"), default=(1 - ROOM) * crown)
        top_front = min((far[n.name] for n in self.notches if n.seam == "cap-front"), default=whole * ROOM)
        for given, most, words in (
            (pitch, low, "the cap can't be turned to the front by"),
            (-pitch, whole - high, "the cap can't be turned to the back by"),
            (forward, ROOM * (top_front - crown), "the crown can't be moved to the front by"),
            (-forward, ROOM * (crown - top_back), "the crown can't be moved to the back by"),
        ):
            if given > most:
                what = f"{words} {length(given)}; {length(most)} is the most that the notches leave"
                raise Refusal(NO_ROOM, what, piece="the cap", place=self.seam.point(self.crown))


def redraw_cap(sleeve: Sleeve, plan: Plan) -> Sleeve:
    """The sleeve with the cap's top raised, and its crown and notches moved, as the plan asks."""
    if plan.cap_raise == plan.pitch == plan.crown_forward == 0:
        return sleeve
    cap = Cap.of(sleeve)
    if plan.cap_raise:
        cap = cap.raised(plan.cap_raise)
    if plan.pitch or plan.crown_forward:
        cap = cap.turned(plan.pitch, plan.crown_forward)
    return cap.on(sleeve)
