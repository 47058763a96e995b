"""The parts of the evidence in words, each with its bits, so that a supervisor can check them one by one."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from evenhand.linkage.tables import EVIDENCE
from evenhand.terms.likeness.explain import KINDS

__all__ = ["Part", "parts_of"]


@dataclass(frozen=True)
class Part:
    """One part of the evidence: `bits` for (+) or against (-) the person, and what was seen."""

    name: str
    bits: float
    says: str


def parts_of(candidate: Mapping[str, Any]) -> tuple[Part, ...]:
    """Return the parts of a CANDIDATES row that weigh anything, in order; their bits sum to the row's `bits`."""
    found = (Part(name, float(candidate[name]), _SAYS[name](candidate)) for name in EVIDENCE)
    return tuple(part for part in found if abs(part.bits) > 1e-9)


Row = Mapping[str, Any]


def _prior(row: Row) -> str:
    return f"before looking: one of everybody, or nobody here, by how long it lasted (1 to {2 ** -row['prior']:,.0f})"


def _number(row: Row) -> str:
    if row["kind"] is None:
        return "nothing explains how this person's number could become this one"
    return f"the number is {KINDS[row['kind']].format(meant=row['meant'])}"


def _days(row: Row) -> str:
    return (
        f"due, and without any punch of their own, on {row['days_k']} of {row['days_n']} stretches looked at"
        if row["days_n"]
        else "no stretch to compare"
    )


def _parity(row: Row) -> str:
    return (
        f"on {row['parity_k']} of {row['parity_n']} stretches with punches of their own, "
        "both together go in and out by turns"
    )


def _time(row: Row) -> str:
    off = row["minutes_off"]
    if off is None or math.isnan(off):
        return "the times beside the hours this person usually punches"
    return f"the times lie {off:.0f} minutes from scheduled starts, ends and meals, on average"


def _name(row: Row) -> str:
    beside = "is this person's" if row["name_k"] else "is not this person's"
    return f"the name that the reader holds beside the number {beside}"


def _enrolment(row: Row) -> str:
    listed = "is not" if row["enrolment_k"] else "is"
    return f"their own number {listed} enrolled at this reader"


def _dates(row: Row) -> str:
    return (
        "hired in the three weeks before this number was enrolled"
        if row["dates_k"]
        else "not hired in the three weeks before this number was enrolled"
    )


def _refused(row: Row) -> str:
    return (
        "one of the two numbers was refused here seconds before the other was accepted"
        if row["refused_k"]
        else "never tried both numbers one after the other"
    )


def _confirmed(row: Row) -> str:
    return (
        "earlier punches under this number here were given to them by hand"
        if row["confirmed_k"]
        else "earlier punches under this number here were given to somebody else by hand"
    )


_SAYS: dict[str, Callable[[Row], str]] = {
    "prior": _prior,
    "former": lambda row: (
        "the number was, or will be, that of somebody not employed then"
        if row["former"] < 0
        else "the number is not that of anybody who has left"
    ),
    "number": _number,
    "name": _name,
    "days": _days,
    "parity": _parity,
    "time": _time,
    "site": lambda row: "works at this site" if row["site"] > 0 else "seldom or never works at this site",
    "enrolment": _enrolment,
    "dates": _dates,
    "refused": _refused,
    "confirmed": _confirmed,
    "elsewhere": lambda row: f"punched at another site within ten minutes of {row['impossible']} of these punches",
    "employed": lambda row: f"was not employed on the day of {row['unemployed']} of these punches",
}
