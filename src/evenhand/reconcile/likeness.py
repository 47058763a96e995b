"""How a number or a name on a reader can be somebody's all the same: slips of the finger, names cut short."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from rapidfuzz.distance import OSA

__all__ = ["SHORTEST_NAME", "folded", "is_same_name", "lost_zeros", "name_forms", "slip_between", "taken_from"]

SHORTEST_NAME = 4


@lru_cache(maxsize=1 << 16)
def name_forms(name: str | None) -> frozenset[str]:
    """Return a name without accents, case and marks, as written and with the surname first or last.

    "Ruíz, Ana" and "Ana Ruiz" share both forms.
    """
    parts = [folded(part) for part in (name or "").split(",")]
    words = " ".join(part for part in reversed(parts) if part).split()
    if not words:
        return frozenset()
    return frozenset({" ".join(words), " ".join([words[-1], *words[:-1]]), " ".join([*words[1:], words[0]])})


def is_same_name(seen: str | None, forms: frozenset[str]) -> bool:
    """Return whether the name a reader holds is one of the forms, or one of them cut short."""
    written = folded(seen or "")
    if not written:
        return False
    return any(
        form == written or (len(written) >= SHORTEST_NAME and form.startswith(written)) for form in forms
    ) or bool(forms & name_forms(seen))


@lru_cache(maxsize=1 << 16)
def folded(text: str) -> str:
    """Return the text without accents, case and marks."""
    plain = "".join(letter for letter in unicodedata.normalize("NFKD", text) if not unicodedata.combining(letter))
    return " ".join(re.sub(r"[^\w]+", " ", plain.casefold()).split())


def slip_between(seen: str, right: str) -> str:
    """Return the one slip that turns the right number into the one seen, in words; '' where it takes more.

    Source: the kinds of slip are those counted by J. Verhoeff, Error Detecting Decimal Codes, Mathematical
    Centre Tracts 29, 1969 (from memory); one slip is an optimal string alignment distance of 1.
    """
    if OSA.distance(seen, right, score_cutoff=1) != 1:
        return ""
    if len(seen) < len(right):
        return f"{right} with one digit dropped"
    if len(seen) > len(right):
        doubled = any(right[:at] + right[at - 1] + right[at:] == seen for at in range(1, len(right) + 1))
        return f"{right} with one digit {'doubled' if doubled else 'added'}"
    if sorted(seen) == sorted(right):
        return f"{right} with two digits swapped"
    return f"{right} with one digit mistyped"


def lost_zeros(seen: str, right: str) -> bool:
    """Return whether the two differ only by zeros in front."""
    return seen != right and seen.lstrip("0") == right.lstrip("0") and seen.lstrip("0") != ""


def taken_from(seen: str, phone: str | None, address: str | None) -> str:
    """Return which other number of the person's it is, in words; '' where it is none.

    Common practice, no source: people left to themselves key the end of a telephone number or a house number.
    """
    digits = re.sub(r"\D", "", phone or "")
    if len(seen) >= 4 and len(digits) > len(seen) and digits.endswith(seen):
        return f"the last {len(seen)} digits of the telephone number"
    groups = {group.lstrip("0") for group in re.findall(r"\d+", address or "")}
    if len(seen.lstrip("0")) >= 2 and seen.lstrip("0") in groups:
        return "a number in the street address"
    return ""
