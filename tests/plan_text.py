"""A plan written as TOML, in the words of ``plan_file``: what its reader is held against."""

from __future__ import annotations

import json
from collections.abc import Sequence

from tutor.alteration.amounts import AMOUNTS, PlanAmount
from tutor.alteration.plan import Along, At, Landmark, OnSlash, Opening, Place, Plan, Share, Slash
from tutor.alteration.plan_aims import Aim
from tutor.alteration.plan_amounts import ARMHOLE
from tutor.alteration.plan_places import SEAM_ENDS
from tutor.alteration.reach import AnswerAmount, OpeningAmount


def write_plan(plan: Plan, aims: Sequence[Aim] = ()) -> str:
    """The plan as TOML that reads back as the same plan and aims, to the last bit; lengths are in mm."""
    by_opening = {aim.amount.number: aim for aim in aims if isinstance(aim.amount, OpeningAmount)}
    others = [(aim.amount, _aim_text(aim)) for aim in aims if not isinstance(aim.amount, OpeningAmount)]
    head = [f"title = {_quoted(plan.title)}"] if plan.title else []
    head += ['units = "mm"', *(["set-back = true"] if plan.set_back else [])]
    plain, tables = _amount_lines(plan, others)
    parts = [head + plain]
    parts += [_slash_lines(slash) for slash in plan.slashes]
    parts += [_opening_lines(opening, by_opening.get(k)) for k, opening in enumerate(plan.openings)]
    parts += tables
    return "\n".join("\n".join(lines) + "\n" for lines in parts)


def _slash_lines(slash: Slash) -> list[str]:
    held = [key for key, hinge in (("from", slash.start_hinge), ("to", slash.end_hinge)) if hinge]
    hinge = [f"hinge = [{', '.join(map(_quoted, held))}]"] if held else []
    ends = [f"from = {_place_text(slash.start)}", f"to = {_place_text(slash.end)}"]
    return ["[[slash]]", f"name = {_quoted(slash.name)}", *ends, *hinge]


def _place_text(place: Place) -> str:
    match place:
        case Landmark(name):
            return _quoted(name)
        case Along(seam, distance, from_end):
            start = _quoted(SEAM_ENDS[seam][from_end])
            return f"{{ seam = {_quoted(seam)}, distance = {distance!r}, from = {start} }}"
        case Share(seam, share):
            start = _quoted(SEAM_ENDS[seam][0])
            return f"{{ seam = {_quoted(seam)}, share = {share!r}, from = {start} }}"
        case OnSlash(other, share):
            return f"{{ slash = {_quoted(other)}, share = {share!r} }}"
        case At(point):
            return f"{{ x = {point.real!r}, y = {point.imag!r} }}"


def _opening_lines(opening: Opening, aim: Aim | None) -> list[str]:
    ends = {0.0: _quoted("from"), 1.0: _quoted("to")}
    at = ends.get(opening.share, repr(opening.share))
    if opening.where:
        word = {"start": "from", "end": "to"}.get(opening.toward)
        toward = f", toward = {_quoted(word)}" if word else ""
        at = f"{{ crosses = {_quoted(opening.where)}{toward} }}"
    amount = f"amount = {opening.amount!r}" if aim is None else f"for = {_aim_text(aim)}"
    return ["[[opening]]", f"slash = {_quoted(opening.slash)}", f"at = {at}", amount]


def _aim_text(aim: Aim) -> str:
    key, figure = ("value", aim.value) if aim.value is not None else ("change", aim.change)
    return f"{{ measure = {_quoted(aim.measure)}, {key} = {figure!r} }}"


def _quoted(text: str) -> str:
    """A TOML basic string; JSON's escapes are TOML's, but for the one letter that JSON leaves as it is."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _amount_lines(
    plan: Plan, aims: Sequence[tuple[PlanAmount | AnswerAmount, str]]
) -> tuple[list[str], list[list[str]]]:
    """The amounts as lines of TOML: those of the file's top table, and each table's own; ``aims`` come as text."""
    written: dict[tuple[str, ...], list[str]] = {}
    solved = {amount: text for amount, text in aims if isinstance(amount, PlanAmount)}
    for amount in AMOUNTS:
        if amount in solved:
            written.setdefault(amount.path[:-1], []).append(f"{amount.way} = {{ for = {solved[amount]} }}")
        elif mm := amount.read(plan):
            written.setdefault(amount.path[:-1], []).append(f"{amount.way} = {mm!r}")
    for answer, text in aims:
        if isinstance(answer, AnswerAmount):
            written[(ARMHOLE, answer.side)] = [f"for = {text}", f"width-share = {answer.width_share!r}"]
    top = written.pop((), [])
    return top, [[f"[{'.'.join(path)}]", *lines] for path, lines in written.items()]
