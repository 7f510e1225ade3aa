"""Why a task is due, as a learner is told."""

from __future__ import annotations

from datetime import datetime

from tutor.marking.usual import mistake_words
from tutor.practice.due import Scheduled


def due_reason(each: Scheduled, now: datetime) -> str:
    """Why a task comes back, in a sentence."""
    ago = ago_words(each.last, now)
    if each.missed:
        what = f": {mistake_words(each.mistake)}" if each.mistake is not None else ""
        return f"It went wrong {ago}{what}."
    if each.shown:
        return f"You had the worked solution shown {ago}."
    forgotten = max(round(100 * (1 - each.recall)), 1)
    return f"You did it right {ago}; of 100 people {forgotten} would have forgotten it by now."


def ago_words(then: datetime, now: datetime) -> str:
    """How long ago, by the days of the calendar where the learner is: "today", "yesterday", "9 days ago"."""
    days = (now.astimezone().date() - then.astimezone().date()).days
    if days <= 0:
        return "today"
    return "yesterday" if days == 1 else f"{days} days ago"


def when_words(then: datetime, now: datetime) -> str:
    """When something comes back: "today", "tomorrow", "in 9 days"."""
    days = (then.astimezone().date() - now.astimezone().date()).days
    if days <= 0:
        return "today"
    return "tomorrow" if days == 1 else f"in {days} days"
