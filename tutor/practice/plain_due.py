"""What is due, offered line by line."""

from __future__ import annotations

from collections.abc import Sequence

from tutor.faults import Fault
from tutor.practice.console import Console
from tutor.practice.offers import Offer
from tutor.practice.page import Page

MOST = 12
"""Tasks that are listed at once."""


def offer_lines(offered: Sequence[Offer], page: Page) -> list[str]:
    """The tasks with their numbers and their reasons."""
    lines = page.wrapped("Due for practice, the most needful first:")
    for number, each in enumerate(offered[:MOST], 1):
        lines += page.wrapped(f"{number}. {each.title}. {each.reason}", "", "   ")
    if len(offered) > MOST:
        lines += page.wrapped(f"{len(offered) - MOST} more are due after these.")
    return lines


def choose(offered: Sequence[Offer], console: Console) -> Offer | None:
    """The task that is chosen; None when none is, or the input ends."""
    page = console.page
    console.say([*offer_lines(offered, page), *page.wrapped("Type the number of one, or quit.")])
    while (line := console.read()) is not None:
        words = line.strip().casefold()
        if words in ("quit", "exit", "q"):
            return None
        try:
            return _offer(words, offered[:MOST])
        except Fault as fault:
            console.say(page.wrapped(f"Not read, and nothing lost: {fault}."))
    return None


def _offer(words: str, offered: Sequence[Offer]) -> Offer:
    if words.isdecimal() and 1 <= int(words[:4]) <= len(offered):
        return offered[int(words) - 1]
    raise Fault("", f'"{words[:40]}" is no number of these', f"write 1 to {len(offered)}, or quit")
