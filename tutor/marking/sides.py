"""The names of what lies on the back and on the front of a sleeve."""

from __future__ import annotations

_NOTCHES = {"notch-front": "notch-back-1", "notch-back-1": "notch-front", "notch-back-2": "notch-front"}


def mirrored(name: str) -> str:
    """The name of the landmark or seam that is the partner of one on the other side; the same for one that has none.

    The one notch of the front is the partner of the lower of the back's two, and of the upper one too.
    """
    if name in _NOTCHES:
        return _NOTCHES[name]
    for side, other in (("back", "front"), ("front", "back")):
        if name.endswith(f"-{side}"):
            return f"{name.removesuffix(side)}{other}"
    return name
