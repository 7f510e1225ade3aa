"""What a bench prints: a row for each figure, with its bound where it has one."""

from __future__ import annotations


class Table:
    """Prints a row for each figure, and knows whether all targets were met."""

    def __init__(self) -> None:
        self.met = True

    def row(self, what: str, figure: float, unit: str, target: float | None = None, *, least: bool = False) -> None:
        line = f"{what:64}{figure:10.3f} {unit:6}"
        if target is not None:
            met = figure >= target if least else figure <= target
            self.met &= met
            line += f" target {'>=' if least else '<='} {target:g}  {'met' if met else 'MISSED'}"
        print(line.rstrip())
