"""Fold what files say of consent and what is recorded here into one history per person."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.consent import CONSENT_HISTORY

__all__ = ["history_of"]


def history_of(consent: Frame, takes: Frame, decisions: Frame, forms: Mapping[str, int]) -> Frame:
    """Return CONSENT_HISTORY: each row of CONSENT as what was said when, and each standing row recorded here.

    `takes` (CONSENT_TAKES) says which file told of a row, `forms` which policy version a file's form is of, by the
    form in small letters. A row recorded here (CONSENT_DECISIONS) that was taken back is not in it, nor is the row that
    took it back. Rows are in the order in which things were said, whatever the order in which they came in. Of a day
    without a time of day, a release is from its beginning and anything else to its end: where a file and a person name
    the same day, the word that protects counts.
    """
    rows = [*_of_files(consent, takes, forms), *_recorded(decisions)]
    rows.sort(key=_when)
    return CONSENT_HISTORY.rows(rows)


def _of_files(consent: Frame, takes: Frame, forms: Mapping[str, int]) -> Iterator[dict[str, Any]]:
    for row in consent.join(takes, on=["person", "given_on"], how="left").iter_rows(named=True):
        told = {
            "person": row["person"],
            "form": row["form"],
            "policy": forms.get((row["form"] or "").casefold()),
            "how": "file",
            "take": row["take"],
        }
        yield {**told, "action": "agree", "said_on": row["given_on"]}
        if row["withdrawn_on"] is not None:
            yield {**told, "action": "withdraw", "said_on": row["withdrawn_on"]}


def _recorded(decisions: Frame) -> Iterator[dict[str, Any]]:
    taken_back: set[int] = set()
    # a row that takes one back may be taken back itself: the later word counts
    for row in decisions.sort("decision", descending=True).iter_rows(named=True):
        if row["decision"] in taken_back:
            continue
        if row["action"] == "take_back":
            taken_back.add(row["takes_back"])
            continue
        yield {name: row[name] for name in CONSENT_HISTORY.names if name in row}


def _when(row: Mapping[str, Any]) -> tuple[Any, ...]:
    agrees = row["action"] == "agree"
    of_day = row["said_at"] if row.get("said_at") is not None else (-1 if agrees else 1 << 60)
    # what cannot be told apart is told in an order that does not hang on how it came in, the protecting word last
    return (row["person"], row["said_on"], of_day, row.get("made_at") or 0, row.get("decision") or 0, not agrees)


def last_words(history: Frame) -> dict[str, list[dict[str, Any]]]:
    """Return each person's rows of CONSENT_HISTORY, in order."""
    found: dict[str, list[dict[str, Any]]] = {}
    for row in history.select(pl.all()).iter_rows(named=True):
        found.setdefault(row["person"], []).append(row)
    return found
