"""Which table a file holds, and which of its columns are which of the table's: the likeliest of all, taken together."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from evenhand.layouts.evidence.column import ColumnSeen, KnownTexts, columns_seen
from evenhand.layouts.evidence.profile import folded
from evenhand.layouts.evidence.told import names_a_part
from evenhand.layouts.matching import Matching
from evenhand.layouts.proposal import Answers
from evenhand.layouts.sketch import Cut, Sketch
from evenhand.layouts.values.words import plain
from evenhand.layouts.wording.files import tables_named
from evenhand.terms.columns import Table
from evenhand.terms.languages import in_a_row, of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.sources import SOURCES

__all__ = ["Understanding", "said_of", "understand"]

LONGEST_LIST = 300  # characters of the columns that a refusal lists

# How often a file holds each table; the rest hold none. Judgement.
PRIORS = {
    "people": 0.25,
    "readers": 0.08,
    "enrolments": 0.06,
    "punches": 0.35,
    "schedules": 0.1,
    "consent": 0.05,
    "rates": 0.03,
    "earnings": 0.03,
}
NONE = math.log(0.2)
STRANGE, MOST_STRANGE = -0.6, -3.0  # what a column says against every table whose header's words are not known
NAMED = 1.5  # what a word for a table in the file's name says
MISSING = -4.0  # what it says against a table that a column is missing without which its rows say nothing
OF_READER = -1.5  # what it says against a roster that the file is named for a reader
READER_NAMED = 1.0  # what a reader's name in it says for logs and lists of a reader
PUNCHED = -6.0  # what it says against a plan that its times are called punched ones: that is a sheet of hours worked
TIMED, UNTIMED = ("punches", "schedules"), -2.0  # tables of instants; what times say against any other
TIMES_LEFT, SHOWS_TIMES = -3.0, 0.8  # what it says against a table that it leaves out a column of times of day
UNREAD = {"enrolments": -3.0, "punches": -0.5}  # what it says against them that no reader is named at all


@dataclass(frozen=True)
class Understanding:
    """A cut of the file with what its columns are in each table, and how likely each table is (weights are logarithms).

    `weights` is ordered, the likeliest table first; `named` are the tables that the file's name stands for, and
    `names_reader` says that it, or what stands above the header, names a known reader.
    """

    cut: Cut
    seen: Sequence[ColumnSeen]
    matchings: Mapping[str, Matching]
    weights: Mapping[str, float]
    named: frozenset[str] = frozenset()
    names_reader: bool = False

    @property
    def table(self) -> str:
        """Return the likeliest table."""
        return next(iter(self.weights))

    @property
    def matching(self) -> Matching:
        """Return the columns of the likeliest table."""
        return self.matchings[self.table]

    @cached_property
    def likelihoods(self) -> dict[str, float]:
        """Return how likely each table is, from 0 to 1; what is left is the likelihood of no table."""
        top = max(*self.weights.values(), NONE)
        shares = {table: math.exp(weight - top) for table, weight in self.weights.items()}
        total = sum(shares.values()) + math.exp(NONE - top)
        return {table: share / total for table, share in shares.items()}


def understand(
    name: str, sketch: Sketch, answers: Answers, known: KnownTexts
) -> tuple[Understanding, list[Understanding]]:
    """Return the likeliest cut of the file, understood, and the others; raises Refusal where answers do not fit it."""
    found, refused = [], None
    for cut in sketch.cuts:
        try:
            found.append(_understand(name, cut, answers, known))
        except Refusal as refusal:
            refused = refusal
    if refused and not found:
        raise refused
    found.sort(key=lambda one: -one.weights[one.table])
    return found[0], found[1:]


def _understand(name: str, cut: Cut, answers: Answers, known: KnownTexts) -> Understanding:
    seen = columns_seen(cut.grid.headers, cut.profiles, known)
    fixed, barred = said_of(name, answers, seen)
    if answers.table and answers.table not in SOURCES:
        raise Refusal(
            told(
                "{table} is none of the tables that a file may hold: {tables}.",
                table=repr(answers.table),
                tables=", ".join(SOURCES),
            )
        )
    tables = [SOURCES[answers.table]] if answers.table else list(SOURCES.values())
    fitting = [table for table in tables if fixed.keys() <= set(table.names)]
    if not fitting:
        wrong = next(one for one in fixed if one not in tables[0].names or len(tables) > 1)
        names = ", ".join(tables[0].names if answers.table else sorted({n for t in tables for n in t.names}))
        table = answers.table or told("any one table with the others")
        says = told(
            "'{wrong}' is no declared column of {table}; they are {names}.", wrong=wrong, table=table, names=names
        )
        raise Refusal(of_file(name, says))
    matchings = {table.name: _matched(table, seen, fixed, barred) for table in fitting}
    is_punched = any(one.concepts.get(each, -9.0) > -0.5 for one in seen for each in ("punched_in", "punched_out"))
    words = f"{name} {cut.shape.sheet}"
    named, readers = tables_named(words), f" {plain(words)} {plain(cut.above)} "
    is_named = any(f" {plain(reader)} " in readers for reader in known.readers)
    weights = {}
    for table, matching in matchings.items():
        used = {at for sources in matching.best.columns.values() for at in sources}
        strange = STRANGE * sum(bool(one.header) and one.silent and one.position not in used for one in seen)
        weight = matching.best.weight + math.log(PRIORS[table]) + NAMED * (table in named) + max(strange, MOST_STRANGE)
        weight += MISSING * sum(name not in ("reader", "zone") for name in matching.missing())
        weight += PUNCHED if table == "schedules" and is_punched else 0.0
        is_untimed = table not in TIMED and any(
            one.profile.times > 0.8 for one in seen if one.position not in used and one.profile.size
        )
        weight += UNTIMED if is_untimed else 0.0
        weight += OF_READER if table == "people" and is_named else 0.0
        if any(one.position not in used and one.profile.times > SHOWS_TIMES for one in seen):
            weight += TIMES_LEFT
        if table in UNREAD:
            unread = 0.0 if "reader" in matching.best.columns else UNREAD[table]
            weight += READER_NAMED if is_named else max(unread, -1.0) if table in named else unread
        weights[table] = weight
    ranked = dict(sorted(weights.items(), key=lambda one: -one[1]))
    return Understanding(cut, seen, matchings, ranked, named, is_named)


def _matched(
    table: Table, seen: Sequence[ColumnSeen], fixed: Mapping[str, tuple[int, ...]], barred: frozenset[int]
) -> Matching:
    """Return the matching in which what was said holds; who names a part of a date with its time, or of a name, that
    would stand in several columns anyway, means the whole of it."""
    parts = {
        name: sources[0]
        for name, sources in fixed.items()
        if len(sources) == 1 and (name == "name" or table.column(name).kind == "instant")
    }
    if not parts:
        return Matching(table, seen, fixed, barred)
    others = {name: sources for name, sources in fixed.items() if name not in parts}
    free = Matching(table, seen, others, barred).best.columns
    whole = {name: free[name] for name, part in parts.items() if part in free.get(name, ())}
    if not all(at == parts.get("name") or names_a_part(seen[at]) for at in whole.get("name", ())):
        del whole["name"]  # what only looks like the other part of a name is asked about
    return Matching(table, seen, {**fixed, **whole}, barred)


def said_of(
    name: str, answers: Answers, seen: Sequence[ColumnSeen]
) -> tuple[dict[str, tuple[int, ...]], frozenset[int]]:
    """Return where the declared columns stand that a person named, and which columns of the file are none.

    Raises Refusal where the file has no such column.
    """
    fixed: dict[str, tuple[int, ...]] = {}
    for source, declared in answers.maps.items():
        fixed[declared] = (*fixed.get(declared, ()), position_said(name, source, seen))
    for declared, sources in fixed.items():
        # A date is read before its time of day, a family name before a given one, in whichever order they were said.
        ranked = sorted(sources, key=lambda at: (seen[at].profile.times > 0.5, sources.index(at)))
        fixed[declared] = tuple(ranked)
    return fixed, frozenset(position_said(name, source, seen) for source in answers.ignored)


def position_said(name: str, source: str, seen: Sequence[ColumnSeen]) -> int:
    """Return the position, from 0, of a column that a person named; raises Refusal where the file has none such."""
    for spelt in (lambda text: text, folded, plain):
        at = [one.position for one in seen if one.header and spelt(one.header) == spelt(source)]
        if len(at) == 1:
            return at[0]
    if source.isdigit() and 1 <= int(source) <= len(seen):
        return int(source) - 1
    listed = [one.header or told("column {position}", position=one.position + 1) for one in seen]
    while len(listed) > 1 and len(", ".join(listed)) > LONGEST_LIST:
        listed.pop()
    columns = in_a_row("{one}, {other}", listed)
    says = told("there is no column {column}; the columns are {columns}.", column=repr(source), columns=columns)
    raise Refusal(of_file(name, says))
