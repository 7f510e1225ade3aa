"""What is off between a sleeve and its wearer, as signed lengths."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace

GREATEST = 200.0
"""mm; no sleeve is farther off than this."""


@dataclass(frozen=True, slots=True)
class Misfit:
    """How much the sleeve has to spare (+) or is short of (-), mm each, against what its wearer and cloth need.

    ``girth``: bicep girth. ``elbow``: elbow girth. ``cap_height``: from the crown to the bicep line. ``ease_back`` and
    ``ease_front``: cap seam of each half beyond what the cloth can take up, or short of what it needs. ``pitch``: how
    far forward of the sleeve the arm hangs, along the cap seam; negative when it hangs behind.

    Raises ValueError for an amount that is not finite or beyond 200 mm.
    """

    girth: float = 0.0
    elbow: float = 0.0
    cap_height: float = 0.0
    ease_back: float = 0.0
    ease_front: float = 0.0
    pitch: float = 0.0

    def __post_init__(self) -> None:
        for each in fields(self):
            amount = getattr(self, each.name)
            if not math.isfinite(amount) or abs(amount) > GREATEST:
                raise ValueError(f"a sleeve can't be {amount} mm off in its {each.name.replace('_', ' ')}")

    def __neg__(self) -> Misfit:
        return Misfit(*(-getattr(self, each.name) for each in fields(self)))

    @property
    def mirrored(self) -> Misfit:
        """The same on the other half: front for back."""
        return replace(self, ease_back=self.ease_front, ease_front=self.ease_back, pitch=-self.pitch)
