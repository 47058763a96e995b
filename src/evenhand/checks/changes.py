"""Open alarms of the charts, as the checks take them up."""

from __future__ import annotations

from typing import Any

import polars as pl

from evenhand.checks.facts import Facts
from evenhand.terms.records import Finding, Stake
from evenhand.terms.words import as_long_day

__all__ = ["open_alarms", "set_right", "since_when"]

NEXT = {
    "hand": "Ask whether a ring, a bandage or a swelling explains it; if not, enrol again.",
    "reader": "Clean the platen; if that does not help, calibrate the reader.",
    "both": "Clean the platen first; then see whether the hand still scores high.",
    "cannot_tell": "Ask for one presentation at another reader.",
    "neither": "Look again in a few days.",
}


def open_alarms(facts: Facts, about: str) -> list[dict[str, Any]]:
    """Return the first alarm that lasts (ALARMS) of each `person`, or of each `reader`."""
    lasting = facts.alarms.filter(pl.col("until").is_null(), pl.col(about).is_not_null())
    return lasting.unique(about, keep="last", maintain_order=True).rows(named=True)


def since_when(row: dict[str, Any]) -> str:
    """Return from when on things had changed, and when that was noticed."""
    return f"Since {as_long_day(row['since'])}, noticed on {as_long_day(row['on'])}."


def set_right(code: str, row: dict[str, Any], name: str) -> Finding:
    """Return the finding of one alarm; what to do depends on whose change it was."""
    about = "person" if row["person"] is not None else "reader"
    cause = row["cause"] or ("hand" if about == "person" else "reader")
    return Finding(
        code=code,
        subject=row[about],
        person=row["person"],
        reader=row["reader"],
        day=row["on"],
        says=f"{name}: {row['says']}",
        evidence=(since_when(row),),
        stake=Stake(people=1 if about == "person" else 0),
        next_step=NEXT["reader" if row["size"] < 0 else cause],
        details={"cause": cause},
    )
