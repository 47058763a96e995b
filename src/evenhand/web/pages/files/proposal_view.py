"""What is shown of a file before it is taken: its columns, its first rows, what is asked, and what may be answered."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from evenhand.jobs.ready import LookedAt
from evenhand.jobs.seen import NO_COLUMN, OWN_CLOCK, ColumnUse, Question
from evenhand.jobs.take import Answers, Seen
from evenhand.terms.column_words import column_in_words
from evenhand.terms.columns import Frame
from evenhand.terms.languages import in_a_row, sentence, told
from evenhand.terms.sources import SOURCES
from evenhand.terms.words import as_likelihood

__all__ = [
    "Asked",
    "ColumnLine",
    "Pick",
    "ProposalView",
    "ReadyLine",
    "digest_of",
    "digest_of_ready",
    "plain",
    "ready_line",
    "tables",
    "view",
]

MOST_COLUMNS = 60
"""Columns that are listed one by one; a file of thousands would be a page of selects that nobody can use."""
MOST_RADIOS = 8
"""Choices that are shown side by side; more go into a list that unfolds."""
ROSTERS = (("part", told("stay on the roster")), ("whole", told("are on the roster no longer")))
ORDERS = (
    ("dmy", told("day, month, year")),
    ("mdy", told("month, day, year")),
    ("ymd", told("year, month, day")),
)
SURE = (sentence("certain"), sentence("very likely"), sentence("likely"), sentence("doubtful"))
"""What `as_likelihood` says."""


@dataclass(frozen=True)
class Pick:
    """One thing that may be chosen."""

    value: str
    title: str
    is_chosen: bool = False


@dataclass(frozen=True)
class Asked:
    """A question with its choices; `name` is what a form gives the answer under.

    One that is open may be answered by any text; one that is long has more choices than stand well side by side.
    """

    name: str
    asks: str
    choices: Sequence[Pick]
    is_open: bool
    is_long: bool


@dataclass(frozen=True)
class ColumnLine:
    """One column of the file: what it is used as, how sure that is, its samples, and what it may be made instead."""

    position: int
    header: str
    use: str
    how_sure: str
    samples: Sequence[str]
    options: Sequence[Pick]


@dataclass(frozen=True)
class ProposalView:
    """A file as it would be read, with everything that may be answered."""

    seen: Seen
    table: str
    title: str
    asked: Sequence[Asked]
    used: Sequence[ColumnLine]
    unused: Sequence[ColumnLine]
    more_columns: int
    tables: Sequence[Pick]
    readers: Sequence[Pick]
    orders: Sequence[Pick]
    layouts: Sequence[Pick]
    rosters: Sequence[Pick]
    words: Mapping[str, Sequence[Pick]]
    zones: Sequence[str]
    zone: str
    zone_held: str
    zeros: str
    zeros_held: str
    asks: frozenset[str]
    may_take: bool
    digest: str


def view(seen: Seen, answers: Answers, readers: Frame) -> ProposalView:
    """Return what is shown of a file by what was answered so far, with the readers (READERS) it may come from."""
    layout = seen.proposal.layout
    table, asked = layout.table, [_asked(one, seen, answers) for one in seen.proposal.questions]
    names, listed_readers = {one.name for one in asked}, readers["reader"].sort().to_list()
    offers = {one.position: one.names for one in seen.proposal.offers}
    lines = [_line(use, answers, table, offers) for use in seen.proposal.uses]
    lines = [replace(one, options=()) if f"use-{one.position}" in names else one for one in lines]
    used, unused = [one for one in lines if one.use], [one for one in lines if not one.use]
    return ProposalView(
        seen=seen,
        table=table,
        title=told(SOURCES[table].title),
        asked=asked,
        used=used,
        unused=unused[:MOST_COLUMNS],
        more_columns=max(0, len(unused) - MOST_COLUMNS),
        tables=[] if "table" in names else tables(answers),
        readers=[] if "reader" in names else [Pick(name, name, name == answers.reader) for name in listed_readers],
        orders=[] if "dates" in names else [Pick(*one, one[0] == answers.dates) for one in ORDERS],
        zones=seen.zones,
        layouts=[] if "layout" in names or not answers.layout else [Pick(answers.layout, answers.layout, True)],
        rosters=[]
        if table != "people" or "roster" in names
        else [Pick(*one, one[0] == answers.roster) for one in ROSTERS],
        words={word: [Pick(meaning, meaning, True)] for word, meaning in answers.words.items()},
        zone="" if answers.zone == OWN_CLOCK else layout.zone,
        zone_held="said" if answers.zone else layout.zone,
        zeros=str(layout.number_width or ""),
        zeros_held="said" if answers.zeros is not None else str(layout.number_width or ""),
        asks=frozenset(names),
        may_take=not seen.proposal.questions and seen.read > seen.refused,
        digest=digest_of(seen),
    )


def tables(answers: Answers) -> list[Pick]:
    """Return the tables a file may be said to hold."""
    return [Pick(name, told(name), name == answers.table) for name in SOURCES]


def digest_of(seen: Seen) -> str:
    """Return a name for exactly what is shown of a file, so that nothing else is taken than what was seen."""
    shown = (seen.file, seen.proposal.layout.to_toml(), seen.read, seen.refused, seen.changes, seen.taken_before)
    return hashlib.sha256(repr(shown).encode(errors="backslashreplace")).hexdigest()[:32]


@dataclass(frozen=True)
class ReadyLine:
    """A file that waits, as it stands in the list: whether it is ready, what it holds, its first row as read.

    `digest` names exactly what is shown of one that is ready.
    """

    looked: LookedAt
    table: str
    rows: int
    first: Sequence[tuple[str, str]]
    zones: Sequence[str]
    digest: str


def ready_line(one: LookedAt) -> ReadyLine:
    """Return a line of the list of what waits."""
    seen = one.seen
    if seen is None:
        return ReadyLine(one, "", 0, (), (), "")
    read = next((row.read for row in seen.first if row.read), {})
    return ReadyLine(
        one,
        seen.proposal.layout.table,
        seen.read,
        [(plain(name), value) for name, value in read.items() if value],
        seen.zones,
        "" if one.why else digest_of_ready(seen),
    )


def digest_of_ready(seen: Seen) -> str:
    """Return a name for what the list shows of a file, whatever was taken since that only adds to the same."""
    shown = (seen.file, seen.proposal.layout.to_toml(), seen.read, [row.read for row in seen.first])
    return hashlib.sha256(repr(shown).encode(errors="backslashreplace")).hexdigest()[:32]


def _asked(question: Question, seen: Seen, answers: Answers) -> Asked:
    positions = {one.header: str(one.position) for one in reversed(seen.proposal.uses)}
    name: str = question.about
    if question.about == "column":
        name = f"use-{positions.get(question.subject, question.subject)}"
    elif question.about == "field":
        name = f"field-{question.subject}"
    elif question.about == "words":
        name = f"word-{question.subject}"
    said = str(getattr(answers, name, None) or "")
    choices = [
        Pick(
            positions.get(one.answer, one.answer) if question.about == "field" else one.answer, one.means or one.answer
        )
        for one in question.choices
    ]
    return Asked(
        name,
        question.asks,
        [replace(one, is_chosen=one.value == said) for one in choices],
        is_open=not choices or question.about in ("zone", "reader", "zeros"),
        is_long=len(choices) > MOST_RADIOS,
    )


def _line(use: ColumnUse, answers: Answers, table: str, offers: Mapping[int, Sequence[str]]) -> ColumnLine:
    position = str(use.position)
    said = NO_COLUMN if position in answers.ignored else answers.maps.get(position, "")
    offered = offers.get(use.position, ())
    return ColumnLine(
        position=use.position,
        header=use.header,
        use=in_a_row("{one}, {other}", map(plain, use.names)),
        how_sure=told("as you said") if said in (use.names or (NO_COLUMN,)) else _how_sure(use, offered),
        samples=use.samples,
        options=[
            Pick("", told("as proposed")),
            Pick(NO_COLUMN, told("nothing"), said == NO_COLUMN),
            *(Pick(one.name, plain(one.name), one.name == said) for one in SOURCES[table].columns),
        ],
    )


def _how_sure(use: ColumnUse, offered: Sequence[str]) -> str:
    if not use.names:
        uses = in_a_row("{one}, {other}", map(plain, offered))
        return told("seems to be {uses}", uses=uses) if offered else ""
    return told(as_likelihood(use.likelihood))


def plain(name: str) -> str:
    """Return a declared column's name as people read it."""
    return column_in_words("time" if name == "at" else name.removeprefix("is_"))
