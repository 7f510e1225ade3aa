"""What a task's measures are before anything is done."""

from __future__ import annotations

from tutor.pattern.measures import measure
from tutor.pattern.pattern import Pattern

AFTERWARDS = {"bust-gain": 0.0}
"""Measures of an alteration that a pattern by itself does not have, and what they are before one."""


def start_measures(pattern: Pattern, arm_girth: float) -> dict[str, float]:
    """What a task's measures are before anything is done."""
    return measure(pattern, arm_girth) | AFTERWARDS
