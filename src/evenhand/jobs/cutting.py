"""Write kept sources anew without a person: their rows, or only what came of their hand.

A row of somebody else stays, with blanks where the name was: shown before, like every text that has a part of the name.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

import polars as pl

from evenhand import layouts
from evenhand.jobs.beside_cells import look_beside
from evenhand.jobs.clocks import clocks_of
from evenhand.jobs.kept_texts import blanking, rows_naming, texts_in
from evenhand.jobs.traces import MINUTE_S, Whom
from evenhand.layouts import Layout, Redaction, Rows, SourceFile
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.part_names import NamingText
from evenhand.store.sources import Sources
from evenhand.store.standing import Standing, standing
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import PUNCHES

__all__ = ["CutSource", "Cuts", "SourcesCut", "What", "cut_sources"]

What = Literal["hand", "all"]
"""What is erased: what came of the hand alone, while time records must stay, or everything."""
SHOWN = 160
OF_HAND = {"punches": ("score",), "enrolments": ("presentations",)}


@dataclass(frozen=True)
class CutSource:
    """A kept source written anew: the digests before and after, its content, and how many rows went or were changed.

    `gone` are the lines on which rows began that are no more, `sheets` what sheets are called now that were called by
    the person's name.
    """

    before: str
    after: str
    content: bytes
    takes: tuple[int, ...]
    lines: int
    gone: frozenset[int]
    sheets: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Cuts:
    """What is cut out of the kept sources: those written anew, the texts that may name the person, changes of others.

    `others` tells of rows that stay and lose the name, a sentence for each file.
    """

    sources: list[CutSource]
    texts: tuple[NamingText, ...] = ()
    others: tuple[str, ...] = ()


class SourcesCut(Sources):
    """The kept sources as they will be: some are written anew, and are in memory only."""

    def __init__(self, kept: Sources, cut: list[CutSource]) -> None:
        super().__init__(kept.folder)
        self._kept = kept
        self._cut = {one.after: one.content for one in cut}

    def read(self, sha256: str, name: str) -> bytes:
        """Return the content; raises Refusal as `Sources.read` does."""
        return self._cut[sha256] if sha256 in self._cut else self._kept.read(sha256, name)


def cut_sources(
    conn: Connection, sources: Sources, known: Whom, what: What, stand_in: str, reword: Collection[str] = ()
) -> Cuts:
    """Return every kept source that holds the person, written anew; raises Refusal where one cannot be read.

    `reword` are the texts, by their rows, of which a part of the name is blanked too; `stand_in` stands for the person
    in the name of a sheet.
    """
    by_content: dict[str, list[Standing]] = {}
    for one in standing(conn):
        if one.layout is not None:
            by_content.setdefault(one.sha256, []).append(one)
    cutting = _Cutting(conn, known, what)
    found: list[CutSource] = []
    texts: list[NamingText] = []
    others: list[str] = []
    for sha256, takes in by_content.items():
        file = SourceFile(takes[0].file, sources.read(sha256, takes[0].file))
        ways = [layout for layout, _ in cutting.layouts_of(takes)]
        cuts = list(cutting.cuts_of(file, takes))
        left = layouts.without(file, _every(ways, cuts)) if cuts else layouts.Shortened(file.content, {})
        lines = sum(len(cut.lines) + len(cut.cells) for _, cut in cuts) + len(left.changed)
        others += _told(takes[0], left.changed)
        sheets: dict[str, str] = {}
        if what == "all":
            shown = SourceFile(file.name, left.content)
            naming = texts_in(shown, takes[0].take, ways, known.parts)
            texts += (one.text for one in naming)
            if chosen := [one for one in naming if one.text.is_among(reword)]:
                left = layouts.without(shown, _every(ways, blanking(chosen)))
                lines += len(chosen)
            if file.is_workbook:
                beside = look_beside(file, takes[0].take, ways, known, is_anew=left.content != file.content)
                texts += beside.texts
                sheets = beside.renamed(reword, stand_in)
                if beside.goes(reword):
                    left = layouts.without(SourceFile(file.name, left.content), _every(ways, ()), sheets)
        after = hashlib.sha256(left.content).hexdigest()
        if after != sha256:
            gone = frozenset().union(*(cut.lines for _, cut in cuts))
            found.append(CutSource(sha256, after, left.content, tuple(one.take for one in takes), lines, gone, sheets))
    return Cuts(found, tuple(texts), tuple(others))


def _every(ways: Sequence[Layout], cuts: Sequence[tuple[Layout, Redaction]]) -> list[tuple[Layout, Redaction]]:
    """Return the cuts of every layout, those that cut nothing too: of a workbook only what is read stays."""
    cut = {layout.to_toml() for layout, _ in cuts}
    return [*cuts, *((layout, Redaction()) for layout in ways if layout.to_toml() not in cut)]


def _told(take: Standing, changed: Mapping[int, str]) -> Iterator[str]:
    """Say which rows of others lose the name in a kept source, where there are any."""
    if changed:
        line = min(changed)
        yield told(
            "take {take}, {file}: the name is blanked in {count:# row|# rows} of others, such as line {line}: “{says}”",
            take=take.take,
            file=take.file,
            count=len(changed),
            line=line,
            says=changed[line][:SHOWN].strip(),
        )


class _Cutting:
    def __init__(self, conn: Connection, known: Whom, what: What) -> None:
        self.known, self.what, traces = known, what, known.traces
        self.readers, self.people = frames.readers(conn), frames.people(conn)
        others = {*self.readers["reader"], *self.readers["site"], *self.people["site"], *self.people["department"]}
        self.values = frozenset(one for one in traces.ids - traces.borne - others if not one.isdigit())
        self.own = _pattern(traces.names, traces.ids | traces.numbers)
        self.any = _pattern(traces.names, traces.ids | traces.numbers | traces.shared)
        self.whose = traces.whose

    def cuts_of(self, file: SourceFile, takes: list[Standing]) -> Iterator[tuple[Layout, Redaction]]:
        """Yield what each layout that the file is, or ever was, read by is to lose; nothing where it holds nothing."""
        for layout, one in self.layouts_of(takes):
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

    def layouts_of(self, takes: Sequence[Standing]) -> list[tuple[Layout, Standing]]:
        """Return the layouts by which the file of these takes is, or was ever, read; that of now is the last."""
        texts = {text: one for one in takes for text in (one.first_layout, one.layout) if text}
        return [(Layout.from_toml(text, one.file), one) for text, one in texts.items()]

    def _cut(self, file: SourceFile, layout: Layout, one: Standing) -> Redaction:
        try:
            rows = clocks_of(one.zones or "", self.readers, self.people).read(file, layout)
        except Refusal:
            if self.what == "hand":
                return Redaction()
            return self._all_of(rows_naming(file, layout, layouts.lines_with(file, layout, self.own), self.whose))
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
        return self._all_of(frozenset(theirs.to_list()) | rows_naming(file, layout, told.to_list(), self.whose))

    def _all_of(self, lines: frozenset[int]) -> Redaction:
        traces = self.known.traces
        return Redaction(lines, words=traces.names, values=self.values, kept=traces.longer)

    def _is_theirs(self, rows: Rows, *, is_back: bool) -> pl.Expr:
        """Return which rows of a file are about the person.

        Of a take that was taken back nothing is stored that tells whose a number was that others held too.
        """
        traces, frame = self.known.traces, rows.frame
        numbered = pl.col("number").is_in(list(traces.numbers)) if "number" in frame.columns else pl.lit(value=False)
        if rows.table.name == "punches":
            own = numbered & ~_is_among(frame, self.known.given)
            theirs = _is_among(frame, self.known.presentations) | own
            return theirs | self._was_theirs(frame) if is_back else theirs
        named = pl.lit(value=False)
        if traces.names and "name" in frame.columns:
            named = pl.col("name").str.to_lowercase().is_in([name.casefold() for name in traces.names])
        if rows.table.name == "enrolments" and "name" in frame.columns:
            listed = pl.col("name").str.to_lowercase().is_in(list(self.known.cut_names))
            named |= listed & pl.col("number").is_in(list(traces.shared))
        if "person" in frame.columns:
            named |= pl.col("person").is_in(list(traces.ids))
        return (named | numbered).fill_null(value=False)

    def _was_theirs(self, frame: Frame) -> pl.Expr:
        """Return which rows of punches came under a number that others held too while it was the person's."""
        told = PUNCHES.frame({name: frame[name] for name in PUNCHES.names if name in frame.columns})
        is_shared = told["number"].is_in(list(self.known.traces.shared))
        return pl.lit(is_shared & self.known.was_theirs(told.with_row_index("punch")))


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
