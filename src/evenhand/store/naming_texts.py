"""The texts of all that was decided that may name an erased person, shown and reworded as somebody says."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from typing import Any

import sqlalchemy as sa

from evenhand.store.comparing import FOLDED
from evenhand.store.ledger import erase_author
from evenhand.store.own_numbers import OwnNumbers
from evenhand.store.part_names import NamingText, PartNames
from evenhand.store.tables import STORED
from evenhand.store.written import change_row
from evenhand.terms.languages import sentence

__all__ = ["WRITTEN", "excerpt", "reword_texts", "texts_naming"]

WRITTEN = (
    sentence("author"),
    sentence("stands"),
    sentence("stood_by"),
    sentence("reason"),
    sentence("says"),
    sentence("line"),
    sentence("other_way"),
    sentence("title"),
    sentence("text"),
    sentence("content"),
)
"""The columns that hold what somebody wrote."""
BY_NAME = ("author", "stands", "stood_by")
"""Those of them that hold a name alone."""
READ_AGAIN = ("text", "content")
"""Those of them that hold a whole file: settings, a policy, steps."""
LONG, AROUND = 600, 80
"""From how many characters on a text is shown in part, and how many of them around what may name somebody."""


def texts_naming(conn: sa.Connection, names: PartNames) -> list[NamingText]:
    """Return the texts of all that was decided that may name the person by a part of the name, table by table."""
    return [
        NamingText(
            row,
            column,
            excerpt(text, _asked(names, column)),
            _is_likely(names, column, text),
            is_faint=not names.names(text),
        )
        for row, texts, _ in _naming(conn, names)
        for column, text in texts.items()
    ]


def reword_texts(conn: sa.Connection, names: PartNames, rows: Collection[str], stand_in: str) -> Counter[str]:
    """Put `stand_in` for the parts of the name in the texts of these `rows`; returns how many of each table."""
    touched: Counter[str] = Counter()
    for row, found, (table, key) in list(_naming(conn, names)):
        texts = {column: text for column, text in found.items() if row in rows or f"{row}:{column}" in rows}
        if not texts:
            continue
        said = {column: _asked(names, column).replaced(text, stand_in) for column, text in texts.items()}
        change_row(conn, table, key, said)
        touched[table] += 1
        if "author" in texts:
            erase_author(conn, texts["author"])
    return touched


def _naming(conn: sa.Connection, names: PartNames) -> Iterator[tuple[str, Mapping[str, str], tuple[str, Any]]]:
    for name, table in STORED.items():
        columns = [one for one in table.columns if one.name in WRITTEN and isinstance(one.type, sa.Text)]
        keys = list(table.primary_key.columns)
        if name in (*FOLDED, "earlier_rows") or not columns or len(keys) != 1:
            continue
        for key, *values in conn.execute(sa.select(keys[0], *columns).order_by(keys[0])).all():
            told = zip((column.name for column in columns), values, strict=True)
            texts = {column: text for column, text in told if text and _asked(names, column).names(text)}
            if texts:
                yield f"{name}/{key}", texts, (name, key)


def _is_likely(names: PartNames, column: str, text: str) -> bool:
    if column in BY_NAME and names.is_likely_name(text):
        return True
    return _asked(names, column).is_likely(text)


def _asked(names: PartNames, column: str) -> PartNames:
    """Return what is looked for in a column: in what a program reads again numbers are amounts, and words are many."""
    return replace(names, numbers=OwnNumbers()) if column in READ_AGAIN else names.faintly


def excerpt(text: str, names: PartNames) -> str:
    """Return a text, of one that is long what stands around the first place that may name somebody."""
    spans = names.spans_in(text)
    if len(text) <= LONG or not spans:
        return text
    begin, end = max(0, spans[0][0] - AROUND), spans[0][1] + AROUND
    return " ".join(f"{'…' if begin else ''}{text[begin:end]}{'…' if end < len(text) else ''}".split())
