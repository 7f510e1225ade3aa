"""All usual mistakes: one a module of ``tutor.marking.mistakes``, and no other list of them."""

from __future__ import annotations

import importlib
import pkgutil

from tutor.marking import mistakes
from tutor.marking.mistake import Mistake


def _found() -> dict[str, Mistake]:
    names = sorted(info.name for info in pkgutil.iter_modules(mistakes.__path__))
    modules = [importlib.import_module(f"{mistakes.__name__}.{name}") for name in names]
    found: list[Mistake] = [module.MISTAKE for module in modules]
    return {mistake.name: mistake for mistake in found}


MISTAKES: dict[str, Mistake] = _found()
"""Every usual mistake by its name."""


def mistake_words(name: str) -> str:
    """What a usual mistake is, in short; its name where there is none such any more."""
    known = MISTAKES.get(name)
    return (known.words if known is not None else "") or name.replace("-", " ")
