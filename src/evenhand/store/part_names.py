"""A part of an erased person's name in what others wrote: it may be theirs, somebody else's, or a common word.

Nobody can tell but who reads it, so each such text is shown, and rewritten or left as they say. An initial beside a
part goes with it; initials alone and names misspelt are not found.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import sqlalchemy as sa

from evenhand.store.comparing import FOLDED
from evenhand.store.ledger import erase_author
from evenhand.store.tables import STORED
from evenhand.store.written import change_row

__all__ = ["NamingText", "PartNames", "reword_texts", "sharing", "texts_naming"]

WRITTEN = ("author", "stands", "stood_by", "reason", "says", "line", "other_way", "title")
"""The columns that hold what somebody wrote."""
BY_NAME = ("author", "stands", "stood_by")
"""Those of them that hold a name alone."""
WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
BEGINS = re.compile(r"(?:^|[.!?:;“\"(]\s*)$")
SHORTEST = 4
"""Letters from which on a part is looked for in small letters too; below, `bo` would be found in anything."""


@dataclass(frozen=True)
class NamingText:
    """A text that may name the person: the row it stands in, such as `corrections/12`, the column, and what it says.

    `is_likely` where it is written as on the roster, within a sentence, and nobody else bears that part of the name.
    """

    row: str
    column: str
    says: str
    is_likely: bool


@dataclass(frozen=True)
class PartNames:
    """Parts of a person's `name`, and the whole names of `others` that share one, which are not the person's."""

    name: str
    others: tuple[str, ...] = ()

    @cached_property
    def parts(self) -> tuple[str, ...]:
        """Return the parts that are looked for: no initial, and no particle, unless all of it is in small letters."""
        words = [one for one in WORD.findall(self.name) if len(one) > 1]
        return tuple(dict.fromkeys([one for one in words if not one.islower()] or words))

    @cached_property
    def shared(self) -> frozenset[str]:
        """Return the parts, in small letters, that others bear too."""
        theirs = {word.casefold() for name in self.others for word in WORD.findall(name)}
        return frozenset(one.casefold() for one in self.parts) & theirs

    @cached_property
    def _others(self) -> re.Pattern[str] | None:
        texts = sorted((one.rstrip(" .") for one in self.others), key=len, reverse=True)
        return re.compile(r"(?i)\b(?:" + "|".join(map(re.escape, texts)) + r")\b") if texts else None

    def found_in(self, text: str) -> list[re.Match[str]]:
        """Return where a text has a part of the name that is no part of somebody else's whole name."""
        taken = [one.span() for one in self._others.finditer(text)] if self._others else []
        return [
            one
            for one in WORD.finditer(text)
            if self._is_part(one[0].removesuffix("'s").removesuffix("’s"))
            and not any(start <= one.start() < end for start, end in taken)
        ]

    def _is_part(self, word: str) -> bool:
        if word in self.parts:
            return True
        folded = word.casefold()
        is_long = len(word) >= SHORTEST or word.isupper()
        return is_long and any(folded == one.casefold() for one in self.parts)

    def is_likely(self, text: str) -> bool:
        """Whether a text names the person: by a part nobody else bears, written as on the roster, in a sentence."""
        return any(
            one[0].removesuffix("'s").removesuffix("’s") in self.parts
            and one[0].casefold() not in self.shared
            and (begin < one.start() or not BEGINS.search(text[:begin]))
            for one, (begin, _) in zip(self.found_in(text), self.spans_in(text), strict=True)
        )

    def is_name(self, text: str) -> bool:
        """Whether a name says nothing but parts of the person's, such as `B. Rook`, and is nobody else's."""
        if self._others and self._others.fullmatch(text.strip()):
            return False
        words = WORD.findall(text)
        parts = {one.casefold() for one in self.parts}
        initials = {one[0] for one in parts}
        named = [word for word in words if word.casefold() in parts]
        return bool(named) and all(word.casefold() in parts | initials for word in words)

    def spans_in(self, text: str) -> list[tuple[int, int]]:
        """Return from where to where a text names the person by a part, with the initials of the others beside it."""
        if not self.parts:
            return []
        initials = "".join(dict.fromkeys(one[0] for one in self.parts))
        before = re.compile(rf"(?:(?<![^\W_])[{re.escape(initials)}]\.?[\s_]*)+$")
        behind = re.compile(rf"(?:,?[\s_]*[{re.escape(initials)}](?![^\W_])\.?)+")
        spans: list[tuple[int, int]] = []
        for one in self.found_in(text):
            whole = one[0].removesuffix("'s").removesuffix("’s")
            begin, end = one.start(), one.start() + len(whole)
            if found := before.search(text[:begin]):
                begin = found.start()
            if len(whole) == len(one[0]) and (found := behind.match(text, end)):
                end = found.end()
            spans.append((max(begin, spans[-1][1]) if spans else begin, end))
        return spans

    def replaced(self, text: str, stand_in: str) -> str:
        """Return a text with `stand_in` in place of each part of the name."""
        for begin, end in reversed(self.spans_in(text)):
            text = text[:begin] + stand_in + text[end:]
        return text

    def blanked(self, text: str) -> str:
        """Return a text with blanks in place of each part of the name, as long as it was."""
        for begin, end in self.spans_in(text):
            text = text[:begin] + " " * (end - begin) + text[end:]
        return text

    @property
    def pattern(self) -> str:
        """Return what finds every text that may have a part, and others; empty where there are no parts."""
        return r"(?i)(?:" + "|".join(map(re.escape, self.parts)) + ")" if self.parts else ""


def texts_naming(conn: sa.Connection, names: PartNames) -> list[NamingText]:
    """Return the texts of all that was decided that may name the person by a part of the name, table by table."""
    return [
        NamingText(row, column, text, column in BY_NAME or names.is_likely(text))
        for row, texts, _ in _naming(conn, names)
        for column, text in texts.items()
    ]


def reword_texts(conn: sa.Connection, names: PartNames, rows: Collection[str], stand_in: str) -> Counter[str]:
    """Put `stand_in` for the parts of the name in the texts of these `rows`; returns how many of each table."""
    touched: Counter[str] = Counter()
    for row, texts, (table, key) in list(_naming(conn, names)):
        if row not in rows:
            continue
        change_row(conn, table, key, {name: names.replaced(text, stand_in) for name, text in texts.items()})
        touched[table] += 1
        if "author" in texts:
            erase_author(conn, texts["author"])
    return touched


def _naming(conn: sa.Connection, names: PartNames) -> Iterator[tuple[str, Mapping[str, str], tuple[str, Any]]]:
    if not names.parts:
        return
    for name, table in STORED.items():
        columns = [column for column in table.columns if column.name in WRITTEN]
        keys = list(table.primary_key.columns)
        if name in FOLDED or not columns or len(keys) != 1:
            continue
        for key, *values in conn.execute(sa.select(keys[0], *columns).order_by(keys[0])).all():
            told = zip((column.name for column in columns), values, strict=True)
            texts = {column: text for column, text in told if text and _names(names, column, text)}
            if texts:
                yield f"{name}/{key}", texts, (name, key)


def _names(names: PartNames, column: str, text: str) -> bool:
    return names.is_name(text) if column in BY_NAME else bool(names.found_in(text))


def sharing(name: str, others: Iterable[str]) -> PartNames:
    """Return the parts of a name, with those names of `others` that share one."""
    mine = {one.casefold() for one in PartNames(name).parts}
    shared = {one for one in others if not mine.isdisjoint(word.casefold() for word in WORD.findall(one))}
    return PartNames(name, tuple(sorted(shared)))
