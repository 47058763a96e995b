"""What Numbers shows: the ways of choosing numbers that can be chosen from, and each clash with where it leads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenhand.jobs.numbers import NumberDesign, Scheme
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["SchemeChoice", "choices", "scheme_of", "share"]

USUAL = "usual"


@dataclass(frozen=True)
class SchemeChoice:
    """A way of choosing numbers: by what a form names it, in words, how many there are, and how safe they are."""

    key: str
    says: str
    capacity: int
    chance: float
    why: str
    fits: bool


def choices(design: NumberDesign) -> Sequence[SchemeChoice]:
    """Return the ways of choosing that are worth considering, the one to choose first."""
    return [
        SchemeChoice(_key(one.scheme), one.scheme.says, one.capacity, one.chance, one.why, one.fits)
        for one in design.options
    ]


def scheme_of(key: str) -> Scheme | None:
    """Return the way of choosing that a form names, None for the length that is usual here; raises Refusal for none."""
    if key in ("", USUAL):
        return None
    try:
        digits, step, remainder, check = key.split("-", 3)
        return Scheme(int(digits), int(step), int(remainder), check)
    except ValueError as fault:
        raise Refusal(told("the way of choosing numbers is none that the page lists; choose one of them.")) from fault


def share(chance: float) -> str:
    """Return a chance in percent, such as `0.13 %`."""
    return f"{100 * chance:.2f}\N{NO-BREAK SPACE}%"


def _key(scheme: Scheme) -> str:
    return f"{scheme.digits}-{scheme.step}-{scheme.remainder}-{scheme.check}"
