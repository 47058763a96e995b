"""Things in a row, each told in its reader's language."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from evenhand.terms.languages.telling import told

__all__ = ["in_a_row"]


def in_a_row(between: str, things: Iterable[str]) -> str:
    """Return things in a row as a sentence, any two of them as `between` has {one} and {other}; '' for none.

    For rows that do not end with an and; {things:listed} in a sentence is for those that do.
    """
    row = list(things)
    return reduce(lambda one, other: told(between, one=one, other=other), row) if row else ""
