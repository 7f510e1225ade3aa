"""How a page's own units become millimetres (W3C, SVG 1.1, sections 7.7 and 7.8: viewBox and preserveAspectRatio)."""

from __future__ import annotations

from tutor.faults import Fault
from tutor.pattern.svg_scan import PX, read_mm, read_numbers, read_px
from tutor.pattern.svg_transform import Affine
from tutor.pattern.svg_tree import Element

_ALIGN = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}


def page_scale(root: Element, where: str) -> Affine:
    """The map from user units of the root to mm, without its shift: where on the page a pattern lies means nothing.

    Without a viewBox a unit is a px, 1/96 inch. With one, ``width`` or ``height`` must be a length; one that is
    missing or a percentage follows from the other, the page keeping the box's proportion. Raises Fault when neither
    is a length, when a size is not above nothing, and for a viewBox that is not four numbers.
    """
    box = _view_box(root, where)
    if box is None:
        return Affine(a=PX, d=PX)
    width, height = (_size(root, name, where) for name in ("width", "height"))
    if width is None and height is None:
        raise Fault(
            where,
            "has a viewBox but no width and height as lengths, so its scale is unknown",
            'write its size, such as width="420mm" height="594mm"',
        )
    _, _, box_width, box_height = box
    x = None if width is None else width / box_width
    y = None if height is None else height / box_height
    x, y = (y if x is None else x), (x if y is None else y)
    assert x is not None
    assert y is not None
    scale, _ = _fitted(root, x, y, where)
    return Affine(a=scale[0], d=scale[1])


def inner_view(element: Element, where: str) -> Affine:
    """The map from user units inside a nested ``svg`` to those around it. Raises Fault as ``page_scale``."""
    x, y = (read_px(element.attributes.get(name, "0"), where) for name in ("x", "y"))
    box = _view_box(element, where)
    if box is None:
        return Affine.shift(x, y)
    right = "give it both as lengths, or draw in a group"
    if any(element.attributes.get(name, "%").strip().endswith("%") for name in ("width", "height")):
        raise Fault(where, "is a nested svg with a viewBox but no width and height as lengths", right)
    width, height = (read_px(element.attributes[name], where) for name in ("width", "height"))
    left, top, box_width, box_height = box
    scale, (align_x, align_y) = _fitted(element, width / box_width, height / box_height, where)
    return Affine(
        a=scale[0],
        d=scale[1],
        e=x - left * scale[0] + (width - box_width * scale[0]) * align_x,
        f=y - top * scale[1] + (height - box_height * scale[1]) * align_y,
    )


def _size(root: Element, name: str, where: str) -> float | None:
    text = root.attributes.get(name, "").strip()
    if not text or text == "auto" or text.endswith("%"):
        return None
    size = read_mm(text, where)
    if size <= 0:
        raise Fault(where, f'has the {name} "{text[:40]}"', "a page's size is above nothing")
    return size


def _view_box(element: Element, where: str) -> list[float] | None:
    text = element.attributes.get("viewBox")
    if text is None or text.strip() == "none":
        return None
    numbers = read_numbers(text, where)
    if len(numbers) != 4 or min(numbers[2:]) <= 0:
        raise Fault(
            where, f'has the viewBox "{text[:60]}"', "it is left, top, width and height, the last two above nothing"
        )
    return numbers


def _fitted(element: Element, x: float, y: float, where: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """The scales across and down, and which share of the room left over comes before the box."""
    text = element.attributes.get("preserveAspectRatio", "xMidYMid")
    words = [word for word in text.split() if word != "defer"]
    align, fit = (*words, "meet")[:2] if words else ("xMidYMid", "meet")
    if align == "none" and len(words) <= 2:
        return (x, y), (0.0, 0.0)
    known = len(align) == 8 and align[0] == "x" and align[4] == "Y" and {align[1:4], align[5:8]} <= set(_ALIGN)
    if not known or fit not in ("meet", "slice") or len(words) > 2:
        raise Fault(where, f'has the preserveAspectRatio "{text[:60]}"', "write xMidYMid meet, or leave it out")
    scale = min(x, y) if fit == "meet" else max(x, y)
    return (scale, scale), (_ALIGN[align[1:4]], _ALIGN[align[5:8]])
