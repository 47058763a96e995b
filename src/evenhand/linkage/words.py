"""The parts of the evidence in words, each with its bits, so that a supervisor can check them one by one."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from evenhand.linkage.tables import EVIDENCE
from evenhand.terms.languages import told
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
    return told(
        "before any evidence: it may be anybody here, or nobody (1 to {odds:,})",
        odds=round(2 ** -row["prior"]),
    )


def _number(row: Row) -> str:
    if row["kind"] is None:
        return told("nothing explains how this person's number could become this one")
    return told("the number is {kind}", kind=told(KINDS[row["kind"]], meant=row["meant"]))


def _days(row: Row) -> str:
    return (
        told(
            "was to work then, and has no punch of their own, in {count} of {all_of} stretches looked at",
            count=row["days_k"],
            all_of=row["days_n"],
        )
        if row["days_n"]
        else told("no stretch to compare")
    )


def _parity(row: Row) -> str:
    return told(
        "on {count} of {all_of} stretches with punches of their own, both together go in and out by turns",
        count=row["parity_k"],
        all_of=row["parity_n"],
    )


def _time(row: Row) -> str:
    off = row["minutes_off"]
    if off is None or math.isnan(off):
        return told("the times beside the hours this person usually punches")
    return told("the times lie {minutes:.0f} minutes from scheduled starts, ends and meals, on average", minutes=off)


def _name(row: Row) -> str:
    if row["name_k"]:
        return told("the name that the reader holds beside the number is this person's")
    return told("the name that the reader holds beside the number is not this person's")


def _enrolment(row: Row) -> str:
    if row["enrolment_k"]:
        return told("their own number is not enrolled at this reader")
    return told("their own number is enrolled at this reader")


def _dates(row: Row) -> str:
    return (
        told("hired in the three weeks before this number was enrolled")
        if row["dates_k"]
        else told("not hired in the three weeks before this number was enrolled")
    )


def _refused(row: Row) -> str:
    return (
        told("one of the two numbers was refused here seconds before the other was accepted")
        if row["refused_k"]
        else told("never tried both numbers one after the other")
    )


def _confirmed(row: Row) -> str:
    return (
        told("earlier punches under this number here were given to them by hand")
        if row["confirmed_k"]
        else told("earlier punches under this number here were given to somebody else by hand")
    )


_SAYS: dict[str, Callable[[Row], str]] = {
    "prior": _prior,
    "former": lambda row: (
        told("the number was, or will be, that of somebody not employed then")
        if row["former"] < 0
        else told("the number is not that of anybody who has left")
    ),
    "number": _number,
    "name": _name,
    "days": _days,
    "parity": _parity,
    "time": _time,
    "site": lambda row: told("works at this site") if row["site"] > 0 else told("seldom or never works at this site"),
    "enrolment": _enrolment,
    "dates": _dates,
    "refused": _refused,
    "confirmed": _confirmed,
    "elsewhere": lambda row: told(
        "punched at another site within ten minutes of {count} of these punches", count=row["impossible"]
    ),
    "employed": lambda row: told("was not employed on the day of {count} of these punches", count=row["unemployed"]),
}
