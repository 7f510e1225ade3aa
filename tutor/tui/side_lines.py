"""The panel beside the picture as lines: what is asked or told, the tape, the plan, the marks of the picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tutor.practice.options import Option
from tutor.practice.signs_told import SignRow
from tutor.practice.tape import TapeRow
from tutor.tui.plan_lines import Kind, PlanLine, line_amount
from tutor.tui.spelling import spelled_out
from tutor.tui.tape_lines import tape_lines
from tutor.tui.wrapping import cut_short, wrapped
from tutor.units import Unit

FEWEST_ASKED = 2
FEWEST_PLANNED = 4
FEWEST_MEASURED = 3
FEWEST_BELOW = 4
"""Rows that tape and plan are given below what is told; fewer tell nothing."""


@dataclass(frozen=True, slots=True)
class SideLine:
    """One line of the panel; ``key`` is that of its line of the plan, ``action`` what a click on it does, if any."""

    text: str
    style: str
    key: str = ""
    action: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """Something told in the panel above tape and plan; one may be ``now``."""

    text: str
    now: bool = False
    heading: bool = False


@dataclass(frozen=True, slots=True)
class SideState:
    """All that the panel shows. What is ``told`` stands in the place of what is asked, and has the room it needs."""

    asked: str
    tape: tuple[TapeRow, ...]
    plan: tuple[PlanLine, ...]
    chosen: str
    heading: str
    unit: Unit
    told: tuple[Told, ...] = ()
    marks: tuple[tuple[str, str], ...] = ()
    """What the marks in the picture mean, shown where there is room: (sample, words)."""
    options: tuple[Option, ...] = ()
    one: bool = True
    """Whether just one of the options can be chosen."""
    signs: tuple[SignRow, ...] = ()
    lies: str = "now"
    """What heads the tape's one column where nothing is wanted and nothing has changed."""


def side_lines(state: SideState, width: int, height: int, *, ascii: bool) -> tuple[SideLine, ...]:
    """The panel's lines, exactly ``height`` of them, none wider than ``width``.

    Where room is short, first what is asked is cut, then the plan is shown about its chosen line, then the tape.
    """
    if state.signs and not state.told:
        return _to_find_out(state, width, height, ascii)
    if state.options and not state.told:
        return _to_choose(state, width, height, ascii)
    tape = _tape(state, width, ascii)
    plan, chosen = _plan(state, width, ascii)
    wanted = 1 + sum(row.wanted is not None for row in state.tape)
    if state.told:
        top = _told(state.told, width, height, ascii)
        below = _fitted(tape, plan, chosen, wanted, height - len(top), width)
    else:
        asked = list(wrapped(spelled_out(state.asked, ascii=ascii), width)) or [""]
        gaps = 2 if plan else 1
        room = max(height - len(tape) - len(plan) - gaps, FEWEST_ASKED)
        top = [SideLine(text, "$text", action="brief") for text in _cut(asked, room, width, ascii)]
        below = _fitted(tape, plan, chosen, wanted, height - len(top), width)
    return _filled([*top, *below], state.marks, width, height, ascii)


def _tape(state: SideState, width: int, ascii: bool) -> list[SideLine]:
    lines = tape_lines(state.tape, state.unit, width, ascii=ascii, lies=state.lies) if state.tape else []
    return [SideLine(text, style, action="all_measures") for text, style in lines]


def _to_choose(state: SideState, width: int, height: int, ascii: bool) -> tuple[SideLine, ...]:
    """What is asked, the options, and below them the tape as far as there is room."""
    asked = list(wrapped(spelled_out(state.asked, ascii=ascii), width)) or [""]
    options = [line for option in state.options for line in _option(state, option, width, ascii)]
    asked = _cut(asked, max(height - len(options) - 1, FEWEST_ASKED), width, ascii)
    gap = [SideLine("", "$text")]
    lines = [*(SideLine(text, "$text", action="brief") for text in asked), *gap, *options]
    tape = _tape(state, width, ascii)
    room = height - len(lines) - 1
    if len(tape) > 1 and room >= FEWEST_MEASURED:
        lines += gap + _shortened(tape, room, width)
    return _filled(lines, state.marks, width, height, ascii)


def _to_find_out(state: SideState, width: int, height: int, ascii: bool) -> tuple[SideLine, ...]:
    """What is asked, the signs and the causes; where room is short, the lines about the chosen one."""
    lines, chosen = [SideLine("signs", "bold $strong")], 0
    for sign in state.signs:
        chosen = len(lines) if sign.name == state.chosen else chosen
        lines += _sign(state, sign, width, ascii)
    lines.append(SideLine("causes", "bold $strong"))
    for option in state.options:
        chosen = len(lines) if option.name == state.chosen else chosen
        lines += _option(state, option, width, ascii)
    asked = list(wrapped(spelled_out(state.asked, ascii=ascii), width)) or [""]
    asked = _cut(asked, max(height - len(lines) - 1, FEWEST_ASKED), width, ascii)
    top = [SideLine(text, "$text", action="brief") for text in asked]
    if len(top) + len(lines) < height:
        top.append(SideLine("", "$text"))
    return _filled([*top, *_about(lines, chosen, height - len(top))], state.marks, width, height, ascii)


def _sign(state: SideState, sign: SignRow, width: int, ascii: bool) -> list[SideLine]:
    """One sign, wrapped: its number, what is done, and, once it was looked for, its figure at the end."""
    here = sign.name == state.chosen
    lead = f"{'>' if here else ' '}{'(x)' if sign.asked else '( )'} {sign.number}  "
    room = max(width - len(lead), 8)
    words = spelled_out(sign.words, ascii=ascii)
    if sign.figure is not None:
        words = f"{words}: {spelled_out(sign.figure, ascii=ascii)}"
    texts = [f"{lead if k == 0 else ' ' * len(lead)}{text}" for k, text in enumerate(wrapped(words, room))]
    return [SideLine(text, "bold $page on $chosen" if here else "$text", sign.name) for text in texts]


def _option(state: SideState, option: Option, width: int, ascii: bool) -> list[SideLine]:
    """One option, wrapped: whether it is chosen, the letter or number of its key if it has one, and its words."""
    ticked = ("(x)" if option.chosen else "( )") if state.one else ("[x]" if option.chosen else "[ ]")
    here = option.name == state.chosen
    lead = f"{'>' if here else ' '}{ticked} {f'{option.letter}  ' if option.letter else ''}"
    lines = wrapped(spelled_out(option.words, ascii=ascii), max(width - len(lead), 8))
    texts = [f"{lead if k == 0 else ' ' * len(lead)}{text}" for k, text in enumerate(lines)]
    return [SideLine(text, "bold $page on $chosen" if here else "$text", option.name) for text in texts]


def _fitted(
    tape: list[SideLine], plan: list[SideLine], chosen: int, wanted: int, left: int, width: int
) -> list[SideLine]:
    """Tape and plan in so many rows, with gaps above them where all fits, or both cut; nothing in too few."""
    gap = [SideLine("", "$text")]
    if left >= len(tape) + len(plan) + bool(tape) + bool(plan):
        return gap * bool(tape) + tape + gap * bool(plan) + plan
    if left < FEWEST_BELOW:
        return []
    if left < len(tape) + len(plan):
        tape = _shortened(tape, max(left - len(plan), min(wanted + 1, left - FEWEST_PLANNED), 3), width)
        plan = _about(plan, chosen, max(left - len(tape), FEWEST_PLANNED))
        tape = _shortened(tape, max(left - len(plan), 2), width)
    return [*tape, *plan]


def _shortened(tape: list[SideLine], most: int, width: int) -> list[SideLine]:
    """So many lines of the tape, the last of them saying how many more there are."""
    if len(tape) <= most:
        return tape
    return [
        *tape[: most - 1],
        SideLine(f"({len(tape) - most + 1} more: t shows all)"[:width], "$quiet", action="all_measures"),
    ]


def _told(told: Sequence[Told], width: int, height: int, ascii: bool) -> list[SideLine]:
    """What is told, wrapped; where it is too long, the part about what is told now."""
    lines, first = list[SideLine](), 0
    for each in told:
        style = "bold $strong" if each.heading else "bold $page on $chosen" if each.now else "$text"
        if each.now:
            first = len(lines)
        texts = wrapped(spelled_out(each.text, ascii=ascii), max(width - 2, 8))
        lead = "" if each.heading else "> " if each.now else "  "
        lines += [SideLine(f"{lead if k == 0 else lead and '  '}{text}", style) for k, text in enumerate(texts)]
    start = max(min(first - 2, len(lines) - height), 0)
    return lines[start : start + height]


def _filled(
    lines: list[SideLine], marks: Sequence[tuple[str, str]], width: int, height: int, ascii: bool
) -> tuple[SideLine, ...]:
    """The lines, the meaning of the marks if all of it fits below, and empty lines."""
    if marks and len(lines) + len(marks) + 2 <= height:
        heading = [SideLine("", "$text"), SideLine("marks", "bold $strong", action="legend")]
        wide = max(len(sample) for sample, _ in marks)
        explained = [spelled_out(f" {sample:<{wide}} {words}", ascii=ascii)[:width] for sample, words in marks]
        lines = [*lines, *heading, *(SideLine(text, "$quiet", action="legend") for text in explained)]
    lines = lines[:height]
    return tuple(lines + [SideLine("", "$text")] * (height - len(lines)))


def _cut(lines: list[str], most: int, width: int, ascii: bool) -> list[str]:
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], cut_short(lines[most - 1], width, f"{'~' if ascii else '…'} (b: all of it)")]


def _plan(state: SideState, width: int, ascii: bool) -> tuple[list[SideLine], int]:
    """The plan's lines under their heading, and the place of the chosen one among them."""
    if not state.plan:
        return ([SideLine(state.heading[:width], "bold $strong")] if state.heading else []), 0
    lines = [SideLine(state.heading[:width], "bold $strong")]
    chosen = 0
    for line in state.plan:
        here = line.key == state.chosen
        if here:
            chosen = len(lines)
        text = _plan_text(line, width, state.unit, ascii)
        lines.append(
            SideLine((">" if here else " ") + text[1:], "bold $page on $chosen" if here else "$text", line.key)
        )
    return lines, chosen


def _plan_text(line: PlanLine, width: int, unit: Unit, ascii: bool) -> str:
    """A line of the plan, as wide as the panel, its first column free for the pointer."""
    indent = "    " if line.kind is Kind.STATION else " "
    amount = "" if line.kind in (Kind.SLASH, Kind.SET_BACK) else line_amount(line, unit)
    room = width - len(indent) - len(amount) - 1
    words = spelled_out(line.words, ascii=ascii)
    if len(words) > room:
        words = words.replace(" - ", "-").replace(", out at the ", " at the ")
    if len(words) > room:
        words = words[: room - 1].rstrip() + ("~" if ascii else "…")
    return f"{indent}{words.ljust(room)} {amount}"


def _about(lines: list[SideLine], chosen: int, most: int) -> list[SideLine]:
    """So many of the lines: the heading, which says what is left out, and those about the chosen one."""
    if len(lines) <= most:
        return lines
    heading, rest = lines[0], lines[1:]
    most = max(most - 1, 1)
    first = min(max(chosen - 1 - most // 2, 0), max(len(rest) - most, 0))
    of = f"{heading.text}: lines {first + 1} to {first + most} of {len(rest)}"
    return [replace(heading, text=of), *rest[first : first + most]]
