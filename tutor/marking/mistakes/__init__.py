"""The usual mistakes, one a file. A module here that holds ``MISTAKE`` is one; there is no other list of them."""

from __future__ import annotations

import importlib
import pkgutil

from tutor.marking.mistake import Mistake


def _found() -> dict[str, Mistake]:
    modules = [importlib.import_module(f"{__name__}.{info.name}") for info in pkgutil.iter_modules(__path__)]
    mistakes: list[Mistake] = [module.MISTAKE for module in modules]
    return {mistake.name: mistake for mistake in sorted(mistakes, key=lambda mistake: mistake.name)}


MISTAKES: dict[str, Mistake] = _found()
"""Every usual mistake by its name."""
