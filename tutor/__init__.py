"""A terminal tutor for altering sleeve patterns."""

__version__ = "0.1.0"
