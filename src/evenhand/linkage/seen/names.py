"""Whose name a reader holds beside a number, though cut short, without accents, surname first or last."""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_left
from collections.abc import Iterable
from functools import lru_cache

__all__ = ["NameIndex", "name_index", "named"]

SHORTEST = 4

NameIndex = tuple[list[tuple[str, int]], dict[str, list[int]]]


def name_index(names: Iterable[str]) -> NameIndex:
    """Return an index of names by their folded forms, for `named`."""
    forms = sorted((form, at) for at, name in enumerate(names) for form in _forms(name))
    whole: dict[str, list[int]] = {}
    for form, at in forms:
        whole.setdefault(form, []).append(at)
    return forms, whole


def named(seen: str | None, index: NameIndex) -> frozenset[int]:
    """Return the places of the names that `seen` is, or is the beginning of (four letters or more)."""
    forms, whole = index
    found = {at for form in _forms(seen or "") for at in whole.get(form, ())}
    written = _folded(seen or "")
    if len(written) >= SHORTEST:
        for place in range(bisect_left(forms, (written, -1)), len(forms)):
            form, at = forms[place]
            if not form.startswith(written):
                break
            found.add(at)
    return frozenset(found)


def _forms(name: str) -> set[str]:
    straight = _folded(name)
    if not straight:
        return set()
    parts = [_folded(part) for part in name.split(",")]
    turned = " ".join(part for part in reversed(parts) if part)
    return {straight, turned}


@lru_cache(maxsize=1 << 17)
def _folded(text: str) -> str:
    plain = "".join(letter for letter in unicodedata.normalize("NFKD", text) if not unicodedata.combining(letter))
    return " ".join(re.sub(r"[^\w]+", " ", plain.casefold()).split())
