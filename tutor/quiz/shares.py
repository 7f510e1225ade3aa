"""Choices that look like chance and are the same on every machine: shares of SHA-256, each by the name of its use."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from typing import TypeVar

Item = TypeVar("Item")
BYTES = 8


class Shares:
    """What a key chooses; another key chooses otherwise, and no choice hangs on any made before it."""

    def __init__(self, *key: object) -> None:
        self._key = "/".join(map(str, key))

    def number(self, name: object) -> int:
        """A number of 64 bits, evenly spread."""
        digest = hashlib.sha256(f"{self._key}/{name}".encode()).digest()
        return int.from_bytes(digest[:BYTES], "big")

    def below(self, name: object, count: int) -> int:
        """A number from 0 to below ``count``."""
        return self.number(name) % count

    def ordered(self, name: object, items: Iterable[Item]) -> list[Item]:
        """The items in another order, all orders being as likely."""
        placed = [(self.number(f"{name}/{k}"), k, item) for k, item in enumerate(items)]
        return [item for _, _, item in sorted(placed, key=lambda each: each[:2])]
