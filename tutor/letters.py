"""Which letters whoever reads the output can be expected to see."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from typing import TextIO

PLAIN_LOCALES = ("C", "POSIX")
COERCED = ("C.UTF-8", "C.utf8", "UTF-8")
"""What Python itself puts in LC_CTYPE where the locale is C or POSIX (PEP 538)."""
UTF = ("utf8", "utf16", "utf32")


def takes_every_letter(output: TextIO | None, environment: Mapping[str, str] = os.environ) -> bool:
    """Whether an output takes all of Unicode: by its encoding and, as Python takes UTF-8 for granted, by the locale."""
    encoding = getattr(output, "encoding", None)
    if encoding is not None and encoding.casefold().replace("-", "") not in UTF:
        return False
    return output is not sys.stdout or not _is_plain(environment)


def _is_plain(environment: Mapping[str, str]) -> bool:
    """Whether a person has chosen the locale of plain ASCII, and no encoding besides."""
    if environment.get("PYTHONIOENCODING") or environment.get("PYTHONUTF8") == "1":
        return False
    if environment.get("LC_ALL"):
        return environment["LC_ALL"] in PLAIN_LOCALES
    ctype, language = environment.get("LC_CTYPE", ""), environment.get("LANG", "")
    if ctype and ctype not in COERCED:
        return ctype in PLAIN_LOCALES
    return language in PLAIN_LOCALES
