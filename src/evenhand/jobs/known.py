"""What the files of one go are read by: the layouts kept, the clocks of readers and people, what cells may be."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import polars as pl

from evenhand import layouts
from evenhand.jobs.clocks import Clocks, clocks_of, said_of_zones
from evenhand.jobs.incoming import Incoming
from evenhand.jobs.kept_layouts import KeptLayouts
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Answers, KnownCells, Proposal, Rows
from evenhand.store import frames
from evenhand.store.standing import known_state
from evenhand.terms.columns import Frame

__all__ = ["Known", "Surroundings"]


@dataclass(frozen=True)
class Surroundings(Clocks):
    """The clocks of readers and sites, and what cells are known."""

    cells: KnownCells


class Known:
    """A workspace's layouts and surroundings, read again only once a file has changed them.

    `today` is the day on which the files are looked at, where that is known.
    """

    def __init__(self, workspace: Workspace, today: date | None = None) -> None:
        self.workspace = workspace
        self.layouts = KeptLayouts(workspace.layouts)
        self.today = today
        self._surroundings: tuple[tuple[int, int], Surroundings] | None = None
        self._supposed: dict[str, Frame] = {}
        self._supposed_by: dict[tuple[str, str], str] = {}
        self._proposed: dict[tuple[str, str], tuple[Answers, Surroundings, frozenset[str], Proposal]] = {}

    def propose(self, incoming: Incoming, answers: Answers) -> Proposal:
        """Return how a file would be read; one that is asked for again is worked out again only if it may differ."""
        surroundings, kept = self.surroundings(), self.layouts.by_name
        key = (incoming.name, incoming.sha256)
        if key in self._proposed:
            *of, before, proposal = self._proposed[key]
            if of == [answers, surroundings]:
                since = [name for name in kept if name not in before]
                if not since:
                    return proposal
                if not proposal.questions and all(kept[name] == proposal.layout for name in since):
                    return replace(proposal, kept=proposal.kept or since[0])
        seen = incoming.sketch if not answers.table else None
        cells = replace(surroundings.cells, orders=self._orders())
        proposal = layouts.propose(incoming.file, answers, cells, kept, seen)
        self._proposed[key] = answers, surroundings, frozenset(kept), proposal
        return proposal

    def surroundings(self) -> Surroundings:
        """Return the clocks and the known cells as the store has them now, and what is supposed beside."""
        with self.workspace.store.reading() as conn:
            newest = known_state(conn)
            if self._surroundings is not None and self._surroundings[0] == newest:
                return self._surroundings[1]
            readers, people = frames.readers(conn), frames.people(conn)
            enrolled = frames.enrolments(conn)["number"]
        readers = _with(readers, self._supposed.get("readers"), "reader")
        people = _with(people, self._supposed.get("people"), "person")
        settings = self.workspace.settings
        sites = pl.concat([people["site"], readers["site"], pl.Series(list(settings.sites), dtype=pl.String)])
        cells = KnownCells(
            readers=readers["reader"].to_list(),
            numbers=pl.concat([people["number"], enrolled]).drop_nulls().unique().to_list(),
            people=people["person"].to_list(),
            names=people["name"].to_list(),
            sites=sites.drop_nulls().unique().to_list(),
            today=self.today,
        )
        clocks = clocks_of(said_of_zones(settings), readers, people)
        found = Surroundings(**vars(clocks), cells=cells)
        self._surroundings = newest, found
        return found

    def suppose(self, rows: Rows, file: str) -> None:
        """Count these readers or people as known, as they will be once their file is taken."""
        name = rows.table.name
        if name in ("readers", "people"):
            key, cells = rows.table.key[0], self.surroundings().cells
            known = {*(cells.readers if name == "readers" else cells.people)}
            for one in {*rows.frame[key].drop_nulls()} - known:
                self._supposed_by[key, one] = file
            self._supposed[name] = _with(rows.frame.drop_nulls(key), self._supposed.get(name), key)
            self._surroundings = None

    def rests_on(self, rows: Rows) -> tuple[str, ...]:
        """Return the files whose readers or people these rows name, where nothing that was taken knows them."""
        named = [name for name in ("reader", "person") if name in rows.frame.columns]
        found = {
            self._supposed_by[name, one]
            for name in named
            for one in rows.frame[name].drop_nulls().unique()
            if (name, one) in self._supposed_by
        }
        return tuple(sorted(found))

    def _orders(self) -> dict[str, str]:
        """Return the order of dates that kept layouts state, by the layout's name, its reader's and its columns.

        What two of them state differently is left out.
        """
        found: dict[str, set[str]] = {}
        for name, kept in self.layouts.by_name.items():
            for origin in (name, kept.reader, kept.origin):
                if origin and kept.date_order:
                    found.setdefault(origin, set()).add(kept.date_order)
        return {origin: next(iter(orders)) for origin, orders in found.items() if len(orders) == 1}


def _with(stored: Frame, supposed: Frame | None, key: str) -> Frame:
    """Return the rows of both, by their key; what is supposed goes before what is stored."""
    return stored if supposed is None else pl.concat([supposed, stored]).unique(key, keep="first", maintain_order=True)
