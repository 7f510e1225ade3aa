"""The number of a lesson or a question as it is typed, digit by digit, and what it leads to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TypedNumber:
    """The digits typed so far; "" before the first, and once anything else was done."""

    digits: str = ""

    def typed(self, digit: str, numbers: Sequence[int]) -> TypedNumber:
        """With one digit more; where no number goes on so, that digit begins another."""
        longer = TypedNumber((self.digits + digit).lstrip("0"))
        return longer if longer.meant(numbers) else TypedNumber(digit.lstrip("0"))

    def meant(self, numbers: Sequence[int]) -> list[int]:
        """Those of the numbers that begin with the digits, the least first: the number itself, where it is one."""
        return sorted(number for number in numbers if self.digits and str(number).startswith(self.digits))

    def words(self, numbers: Sequence[int], what: str) -> str:
        """Which lesson or question (``what``) they lead to, and where another digit would go on to."""
        if not (meant := self.meant(numbers)):
            return f"There is no {what} {self.digits or 0}."
        at, *more = meant
        if not more:
            return f"{what.capitalize()} {at}. Enter opens it."
        which = f"{what} {more[0]}" if len(more) == 1 else f"{what}s {more[0]} to {more[-1]}"
        return f"{what.capitalize()} {at}. Enter opens it; another digit goes on to {which}."
