"""Fold the takes that stand, in the order of their numbers, as far as something about them has changed.

What is stored is what their files say, each read by its layout on the clocks that the takes before it set. So a take
that is taken back, or read again, is left out or read in its place, and with it whatever was placed or known by it:
keyed tables are folded from their beginning, punches where they overlap. The same fold makes the whole store anew.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from functools import partial

import polars as pl

from evenhand import layouts
from evenhand.jobs.clocks import Clocks, clocks_of
from evenhand.layouts import Layout, Rows, SourceFile
from evenhand.store import folding as apart
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.folding import Reach
from evenhand.store.refused import forget_refused
from evenhand.store.sources import Sources
from evenhand.store.standing import Standing, standing
from evenhand.store.tables import KEYED
from evenhand.store.takes import restand, takes_alone
from evenhand.store.taking import store_rows
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

__all__ = ["Folded", "fold", "given_by"]

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class Folded:
    """What was folded anew: the takes, the keyed tables, and from when to when punches may differ.

    `punched` are those of `takes` whose punches were taken out and put back, `faults` says of which nothing could be
    read, and why.
    """

    takes: tuple[int, ...]
    punched: tuple[int, ...]
    tables: frozenset[str]
    spans: tuple[Reach, ...]
    faults: Mapping[int, str]

    @property
    def notices(self) -> tuple[str, ...]:
        """Return what is to be known of the takes of which nothing can be read any more."""
        return tuple(
            told("Nothing of take {take} can be read then: {why}", take=take, why=why)
            for take, why in self.faults.items()
        )


def fold(conn: Connection, sources: Sources, takes: Collection[int] | None, progress: Progress | None = None) -> Folded:
    """Fold `takes`, about which something was decided in this transaction, and all that rests on them; or all takes.

    Raises Refusal where a source that is needed is not there.
    """
    takes_alone(conn)
    folding = _Folding(conn, sources, standing(conn), takes)
    with apart.folding(conn):
        folding.take_apart()
        for place, one in enumerate(folding.takes):
            if progress:
                progress("folding takes", place / len(folding.takes))
            folding.put_back(one)
    return Folded(
        tuple(folding.read),
        tuple(folding.moved),
        frozenset(folding.tables),
        tuple(folding.spans),
        folding.faults,
    )


def given_by(layout: Layout) -> tuple[str, ...]:
    """Return the declared columns about which a file of this layout says something."""
    return tuple(layout.columns) + (("reader",) if layout.reader else ())


@dataclass
class _Folding:
    conn: Connection
    sources: Sources
    takes: list[Standing]
    changed: Collection[int] | None
    tables: set[str] = field(default_factory=set)
    read: list[int] = field(default_factory=list)
    moved: list[int] = field(default_factory=list)
    spans: list[Reach] = field(default_factory=list)
    faults: dict[int, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._last_earlier = apart.last_earlier(self.conn)
        self._layouts = {one.take: Layout.from_toml(one.layout, one.file) for one in self.takes if one.layout}
        self._reach = apart.spans_of(self.conn)
        self._away: set[int] = set()  # takes whose punches are taken out and not put back yet
        self._clocks: dict[str, Clocks] = {}  # by what the settings said, as of the take that is looked at

    def take_apart(self) -> None:
        """Empty the keyed tables that something changed rests on; of all takes, take out every punch too."""
        self.tables = set(KEYED)
        if self.changed is None:
            self._take_out([one.take for one in self.takes if one.take > self._last_earlier])
        else:
            of = [one for one in self.takes if one.take in self.changed]
            touched = {one.table for one in of} | {self._table(one) for one in of}
            self.tables = _resting_on(touched)
        for one in self.takes:
            if one.take > self._last_earlier and one.layout is None and self._table(one) in self.tables:
                raise Refusal(
                    told(
                        "take {take}, {file}, was stored without its source; nothing was changed.",
                        take=one.take,
                        file=one.file,
                    )
                )
        apart.empty_keyed(self.conn, self.tables)
        forget_refused(self.conn, [one.take for one in self.takes if one.table in self.tables and one.layout])

    def put_back(self, one: Standing) -> None:
        """Store what a take brings at its place in the order."""
        if one.layout is None:
            return
        table = self._table(one)
        if table in KEYED and one.table in KEYED:
            if table in self.tables or one.table in self.tables:
                self._store(one)
            return
        is_changed = self.changed is None or one.take in self.changed
        # The clocks are those as of this take only where the readers are folded with it.
        if not is_changed and not one.is_back and "readers" in self.tables:
            is_changed = one.clocks != self._clocks_at(one).digest(table)
        if is_changed or one.take in self._away:
            self._put_back_punches(one, is_changed=is_changed)

    def _put_back_punches(self, one: Standing, *, is_changed: bool) -> None:
        before = self._reach.get(one.take, [])
        self._take_out([one.take])
        self.moved.append(one.take)
        rows = None if one.is_back else self._read(one)
        region = before
        if is_changed:
            region = [*before, *(_reach_of(rows) if rows is not None and self._table(one) == "punches" else [])]
            self.spans += region
        # A later take may have known what this one brought, or have brought what this one now knows; also where this
        # one itself was only taken out, since it was laid down before that one.
        standing = {take: reach for take, reach in self._reach.items() if take not in self._away}
        self._take_out(apart.overlapping(standing, region, one.take))
        self._store(one, rows)
        self._away.discard(one.take)

    def _take_out(self, takes: Collection[int]) -> None:
        new = set(takes) - self._away
        for one in self.takes:
            if one.take in new and one.layout is None:
                raise Refusal(
                    told(
                        "take {take}, {file}, was stored without its source; nothing was changed.",
                        take=one.take,
                        file=one.file,
                    )
                )
        apart.withdraw(self.conn, new)
        self._away |= new

    def _table(self, one: Standing) -> str:
        return self._layouts[one.take].table if one.take in self._layouts else one.table

    def _clocks_at(self, one: Standing) -> Clocks:
        said = one.zones
        assert said is not None  # it is kept wherever a layout is
        if said not in self._clocks:
            self._clocks[said] = clocks_of(said, frames.readers(self.conn), frames.people(self.conn))
        return self._clocks[said]

    def _read(self, one: Standing) -> Rows | None:
        """Return the rows of a take; None, with the reason kept, where its file cannot be read any more."""
        clocks, layout = self._clocks_at(one), self._layouts[one.take]
        file = SourceFile(one.file, self.sources.read(one.sha256, one.file))
        try:
            rows = clocks.read(file, layout)
        except Refusal as refusal:
            restand(self.conn, one.take, table=layout.table, clocks=clocks.digest(layout.table), fault=str(refusal))
            self.faults[one.take] = str(refusal)
            return None
        self._texts = partial(layouts.with_texts, file, layout)
        return rows

    def _store(self, one: Standing, rows: Rows | None = None) -> None:
        if one.take > self._last_earlier:
            self.read.append(one.take)
        layout = self._layouts[one.take]
        if one.is_back:
            restand(self.conn, one.take, table=layout.table, is_back=True)
        elif (rows := rows or self._read(one)) is not None:
            digest = self._clocks_at(one).digest(layout.table)
            restand(self.conn, one.take, table=layout.table, clocks=digest, to_minute=rows.to_minute)
            store_rows(
                self.conn,
                one.take,
                rows.table,
                rows.frame,
                rows.lines,
                given=given_by(layout),
                roster=layout.roster,
                rejects=rows.rejects,
                with_texts=self._texts,
            )
        if {layout.table, one.table} & {"readers", "people"}:
            self._clocks.clear()


def _resting_on(tables: Collection[str]) -> set[str]:
    """Return the keyed tables to be folded where these are: clocks are needed as of each take, and place schedules."""
    found = set(tables)
    if found & {"people", "readers", "schedules"}:
        found |= {"people", "readers", "schedules"}
    if "punches" in found:
        found |= {"readers"}
    return found & KEYED.keys()


def _reach_of(rows: Rows) -> list[Reach]:
    reach = rows.frame.group_by("reader").agg(first_at=pl.col("at").min(), last_at=pl.col("at").max())
    return [Reach(*row) for row in reach.iter_rows()]
