"""A drawn pattern laid on the one it was altered from: what was left alone is taken from there, to the hair.

An armhole is turned and shifted so that its upper part, which no answer of the armhole changes, lies where it was; so
it is known by how much its underarm point has moved, wherever on the page it was drawn.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from tutor.classwork.drawn_turn import Turns, turned_back, upper_share
from tutor.classwork.outline_points import SHARES, laid_on, nearest_on, outline_points, spread_along
from tutor.geometry.cubic import Complexes, Floats
from tutor.geometry.move import Move
from tutor.pattern.armhole import Armhole
from tutor.pattern.joining import with_end
from tutor.pattern.pattern import Pattern

ALONE = {False: 0.3, True: 0.006}
"""mm; a piece whose points differ by no more, in the root of the mean square, was left alone: drawn by hand, or not."""
CORNER = {False: 0.8, True: 0.015}
"""mm; and by no more than this at any of them."""
WHOLE = (0.2, 0.5)
"""The same two bounds for an armhole drawn by hand that is laid on the block's as a whole, by a shift alone."""
ROUNDS = 4
FINE = 0.002
"""mm by which broken lines may be off the seams that they stand for."""
SIDES = ("back", "front")
UNTURNED = Turns()


def on_block(drawn: Pattern, block: Pattern, *, exact: bool = False, turns: Turns = UNTURNED) -> Pattern:
    """The drawn pattern with its armholes where the block's are, and with the block's own pieces where it is alike.

    Armholes that were not drawn are the block's. In an ``exact`` drawing only what is the same to the hair was left
    alone. ``turns`` are what was turned when it was read.
    """
    alike = _sleeve_alike(drawn, block, exact)
    if alike is not None:
        turns = replace(turns, sleeve=alike * turns.sleeve)
    found = {side: _armhole(drawn.armhole(side), block.armhole(side), exact, turns) for side in SIDES}
    sleeve = drawn.sleeve if alike is None else block.sleeve
    return replace(drawn, sleeve=sleeve, armhole_back=found["back"], armhole_front=found["front"])


def bust_gain(drawn: Pattern, block: Pattern) -> float:
    """What moved side seams add to the bust right round the body, mm, of a pattern that lies on its block."""
    gain = 0.0
    for side in SIDES:
        there, here = block.armhole(side), drawn.armhole(side)
        if there is not None and here is not None:
            gain += 2 * there.outward * (here.underarm_point.real - _side_at(there, here.underarm_point.imag))
    return gain


def _side_at(piece: Armhole, level: float) -> float:
    """The x of a piece's side seam at a level, made longer upwards where that is above the underarm point."""
    point, seam = piece.underarm_point, piece.side_seam
    if seam is None:
        return point.real
    met = [seam.point(u).real for _, u in seam.line_crossings(1j * level, 1j * level + 1)]
    if met and level < point.imag:
        return met[0]
    way = seam.tangent(0)
    return point.real + (level - point.imag) * way.real / way.imag if way.imag else point.real


def _sleeve_alike(drawn: Pattern, block: Pattern, exact: bool) -> complex | None:
    """By what a sleeve that was left alone is turned to lie on the block's; None for one that was altered."""
    here, there = outline_points(drawn), outline_points(block)
    move = laid_on(here.sleeve, there.sleeve)
    off = np.abs(move(here.sleeve) - there.sleeve)
    notches = [abs(move(point) - there.notches[name]) for name, point in here.notches.items() if name in there.notches]
    whole = set(here.notches) == set(there.notches)
    alike = whole and _is_alike(off, exact) and max(notches, default=0.0) <= CORNER[exact]
    return move.turn if alike else None


def _is_alike(off: Floats, exact: bool) -> bool:
    return _within(off, ALONE[exact], CORNER[exact])


def _within(off: Floats, usual: float, most: float) -> bool:
    return float(np.sqrt((off**2).mean())) <= usual and float(off.max()) <= most


def _armhole(drawn: Armhole | None, block: Armhole | None, exact: bool, turns: Turns) -> Armhole | None:
    if drawn is None or block is None:
        return block if drawn is None else drawn
    turn = turned_back(drawn, block, turns.left(drawn.side), exact=exact)
    laid = _laid(drawn.moved(Move(turn)), block)
    if _alike(laid, block, exact):
        return block
    if exact:
        return laid
    seam = laid.seam
    if abs(seam.end - block.shoulder_tip) <= CORNER[exact]:
        seam = with_end(seam, block.shoulder_tip)
    side = laid.side_seam
    if side is not None and block.side_seam is not None and _is_near(side.end.imag, block.side_seam.end.imag):
        side = with_end(side, complex(side.end.real, block.side_seam.end.imag))
    return replace(laid, seam=seam, side_seam=side)


def _is_near(level: float, other: float) -> bool:
    return abs(level - other) <= CORNER[False]


def _laid(drawn: Armhole, block: Armhole) -> Armhole:
    """An armhole that is not turned, shifted so that its upper part lies on the block's, as nearly as it goes."""
    line = block.seam.flatten(FINE)
    shift = block.shoulder_tip - drawn.shoulder_tip
    points = _upper(drawn)
    for _ in range(ROUNDS):
        off = complex((nearest_on(line, points + shift) - points - shift).mean())
        shift += off
        if abs(off) < 1e-6:
            break
    return drawn.moved(Move(shift=shift))


def _upper(piece: Armhole) -> Complexes:
    """Points of the part of an armhole that keeps its shape."""
    return spread_along(piece.seam.flatten(FINE), SHARES[upper_share(piece) <= SHARES])


def _alike(drawn: Armhole, block: Armhole, exact: bool) -> bool:
    points, others = (spread_along(seam.flatten(FINE)) for seam in (drawn.seam, block.seam))
    off = points - others
    if not (_is_alike(np.abs(off), exact) or (not exact and _within(np.abs(off - off.mean()), *WHOLE))):
        return False
    notches = [(drawn.mark(mark.name), mark) for mark in block.marks]
    return all(
        mark is not None and abs(drawn.seam.point(mark.u) - block.seam.point(there.u)) <= CORNER[exact]
        for mark, there in notches
    )
