"""Whom somebody means: by identifier, by number, or by a part of a name that one person alone has."""

from __future__ import annotations

from typing import Any

import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Unknown

__all__ = ["person_called"]


def person_called(people: Frame, text: str) -> dict[str, Any]:
    """Return the row of PEOPLE that a text means; raises Unknown where it means nobody, or several."""
    if not text.strip():
        raise Unknown(told("nobody is named; give an identifier, a number or a part of a name."))
    for column in ("person", "number"):
        rows = people.filter(pl.col(column) == text)
        if rows.height == 1:
            return rows.row(0, named=True)
    spelled = pl.col("name").str.to_lowercase()
    named = people.filter(spelled.str.contains(text.strip().lower(), literal=True))
    if named.height == 1:
        return named.row(0, named=True)
    if named.height:
        several = ", ".join(f"{row['person']} ({row['name']})" for row in named.head(5).iter_rows(named=True))
        raise Unknown(
            told(
                '"{text}" names {count} people: {several}; give the identifier of the one you mean.',
                text=text,
                count=named.height,
                several=several,
            )
        )
    raise Unknown(
        told('nobody on the roster answers to "{text}"; give an identifier, a number or a part of a name.', text=text)
    )
