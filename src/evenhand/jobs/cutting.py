"""Write kept sources anew without a person: their rows, or only what came of their hand."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

import polars as pl

from evenhand import layouts
from evenhand.jobs.clocks import clocks_of
from evenhand.jobs.traces import MINUTE_S, Whom
from evenhand.layouts import Layout, Redaction, Rows, SourceFile
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.sources import Sources
from evenhand.store.standing import Standing, standing
from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal

__all__ = ["CutSource", "SourcesCut", "What", "cut_sources"]

What = Literal["hand", "all"]
"""What is erased: what came of the hand alone, while time records must stay, or everything."""
OF_HAND = {"punches": ("score",), "enrolments": ("presentations",)}


@dataclass(frozen=True)
class CutSource:
    """A kept source written anew: the digests before and after, its content, and how many rows went or were changed."""

    before: str
    after: str
    content: bytes
    takes: tuple[int, ...]
    lines: int


class SourcesCut(Sources):
    """The kept sources as they will be: some are written anew, and are in memory only."""

    def __init__(self, kept: Sources, cut: list[CutSource]) -> None:
        super().__init__(kept.folder)
        self._cut = {one.after: one.content for one in cut}

    def read(self, sha256: str, name: str) -> bytes:
        """Return the content; raises Refusal as `Sources.read` does."""
        return self._cut[sha256] if sha256 in self._cut else super().read(sha256, name)


def cut_sources(conn: Connection, sources: Sources, known: Whom, what: What) -> list[CutSource]:
    """Return every kept source that holds the person, written anew; raises Refusal where one cannot be read."""
    by_content: dict[str, list[Standing]] = {}
    for one in standing(conn):
        if one.layout is not None:
            by_content.setdefault(one.sha256, []).append(one)
    cutting = _Cutting(conn, known, what)
    found = []
    for sha256, takes in by_content.items():
        file = SourceFile(takes[0].file, sources.read(sha256, takes[0].file))
        cuts = list(cutting.cuts_of(file, takes))
        lines = sum(len(cut.lines) + len(cut.cells) for _, cut in cuts)
        if not cuts:
            continue
        content = layouts.without(file, cuts)
        after = hashlib.sha256(content).hexdigest()
        if after != sha256:
            found.append(CutSource(sha256, after, content, tuple(one.take for one in takes), lines))
    return found


class _Cutting:
    def __init__(self, conn: Connection, known: Whom, what: What) -> None:
        self.known, self.what, traces = known, what, known.traces
        self.readers, self.people = frames.readers(conn), frames.people(conn)
        others = {*self.readers["reader"], *self.readers["site"], *self.people["site"], *self.people["department"]}
        self.values = frozenset(traces.ids - others)
        self.own = _pattern(traces.names, traces.ids | traces.numbers)
        self.any = _pattern(traces.names, traces.ids | traces.numbers | traces.shared)

    def cuts_of(self, file: SourceFile, takes: list[Standing]) -> Iterator[tuple[Layout, Redaction]]:
        """Yield what each layout that the file is, or ever was, read by is to lose; nothing where it holds nothing."""
        texts = {text: one for one in takes for text in (one.first_layout, one.layout) if text}
        for text, one in texts.items():
            layout = Layout.from_toml(text, one.file)
            try:
                if not layouts.lines_with(file, layout, self.any):
                    continue
            except Refusal:  # another layout reads it
                continue
            cut = self._cut(file, layout, one)
            if (
                cut.lines
                or cut.cells
                or (self.what == "all" and layouts.lines_with(file, layout, cut.pattern or r"\b\B"))
            ):
                yield layout, cut

    def _cut(self, file: SourceFile, layout: Layout, one: Standing) -> Redaction:
        try:
            rows = clocks_of(one.zones or "", self.readers, self.people).read(file, layout)
        except Refusal:
            if self.what == "hand":
                return Redaction()
            return self._all_of(frozenset(layouts.lines_with(file, layout, self.own)))
        is_theirs = self._is_theirs(rows, is_back=one.is_back)
        theirs = pl.Series(rows.lines).filter(rows.frame.select(is_theirs).to_series())
        if self.what == "hand":
            of_hand = [name for name in OF_HAND.get(layout.table, ()) if name in rows.frame.columns]
            sources = tuple(s for name in of_hand for s in layout.columns.get(name, ()))
            if not sources:
                return Redaction()
            said = rows.frame.select(is_theirs & pl.any_horizontal(pl.col(*of_hand).is_not_null())).to_series()
            return Redaction(cells=dict.fromkeys(pl.Series(rows.lines).filter(said).to_list(), sources))
        told = rows.rejects.filter(pl.col("text").str.contains(self.own).fill_null(value=False))["line"]
        return self._all_of(frozenset({*theirs.to_list(), *told.to_list()}))

    def _all_of(self, lines: frozenset[int]) -> Redaction:
        return Redaction(lines, {}, self.known.traces.names, self.values)

    def _is_theirs(self, rows: Rows, *, is_back: bool) -> pl.Expr:
        """Return which rows of a file are about the person.

        Of a take that was taken back nothing is stored that tells whose a number was that others held too.
        """
        traces, frame = self.known.traces, rows.frame
        numbered = pl.col("number").is_in(list(traces.numbers)) if "number" in frame.columns else pl.lit(value=False)
        if rows.table.name == "punches":
            shared = pl.col("number").is_in(list(traces.shared)) & pl.col("at").is_between(*self.known.employed)
            own = numbered & ~_is_among(frame, self.known.given)
            return _is_among(frame, self.known.presentations) | own | (shared & is_back)
        named = pl.lit(value=False)
        if traces.names and "name" in frame.columns:
            named = pl.col("name").str.to_lowercase().is_in([name.casefold() for name in traces.names])
        if rows.table.name == "enrolments" and "name" in frame.columns:
            listed = pl.col("name").str.to_lowercase().is_in(list(self.known.cut_names))
            named |= listed & pl.col("number").is_in(list(traces.shared))
        if "person" in frame.columns:
            named |= pl.col("person").is_in(list(traces.ids))
        return (named | numbered).fill_null(value=False)


def _is_among(frame: Frame, presentations: Frame) -> pl.Expr:
    keys = ["reader", "number", "minute"]
    marked = frame.select("reader", "number", minute=pl.col("at") // MINUTE_S).join(
        presentations.with_columns(is_theirs=pl.lit(value=True)), on=keys, how="left", maintain_order="left"
    )
    return pl.lit(marked["is_theirs"].fill_null(value=False))


def _pattern(names: tuple[str, ...], values: Mapping[str, object] | frozenset[str]) -> str:
    """Return what finds a name, or a value as a word of its own, also without zeros in front."""
    found = [re.escape(name) for name in names]
    found += [f"0*{re.escape(value.lstrip('0'))}" if value.isdigit() else re.escape(value) for value in sorted(values)]
    return r"(?i)\b(?:" + "|".join(found) + r")\b"
