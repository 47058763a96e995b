"""What the files of one go are read by: the layouts kept, the clocks of readers and people, what cells may be."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import polars as pl

from evenhand import layouts
from evenhand.jobs.clocks import Clocks, clocks_of, said_of_zones
from evenhand.jobs.incoming import Incoming
from evenhand.jobs.kept_layouts import KeptLayouts
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Answers, KnownCells, Proposal
from evenhand.store import frames
from evenhand.store.standing import clock_state

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
        self._today = today
        self._surroundings: tuple[tuple[int, int], Surroundings] | None = None
        self._proposed: dict[tuple[str, str], tuple[Answers, Surroundings, int, Proposal]] = {}

    def propose(self, incoming: Incoming, answers: Answers) -> Proposal:
        """Return how a file would be read; one that is asked for again is worked out again only if it may differ."""
        surroundings, kept = self.surroundings(), self.layouts.by_name
        key = (incoming.name, incoming.sha256)
        if key in self._proposed:
            *of, proposal = self._proposed[key]
            if of == [answers, surroundings, len(kept)]:
                return proposal
        seen = incoming.sketch if not answers.table else None
        proposal = layouts.propose(incoming.file, answers, surroundings.cells, kept, seen)
        self._proposed[key] = answers, surroundings, len(kept), proposal
        return proposal

    def surroundings(self) -> Surroundings:
        """Return the clocks and the known cells as the store has them now."""
        with self.workspace.store.reading() as conn:
            newest = clock_state(conn)
            if self._surroundings is not None and self._surroundings[0] == newest:
                return self._surroundings[1]
            readers, people = frames.readers(conn), frames.people(conn)
            enrolled = frames.enrolments(conn)["number"]
        settings = self.workspace.settings
        sites = pl.concat([people["site"], readers["site"], pl.Series(list(settings.sites), dtype=pl.String)])
        cells = KnownCells(
            readers=readers["reader"].to_list(),
            numbers=pl.concat([people["number"], enrolled]).drop_nulls().unique().to_list(),
            people=people["person"].to_list(),
            names=people["name"].to_list(),
            sites=sites.drop_nulls().unique().to_list(),
            today=self._today,
            orders=self._orders(),
        )
        clocks = clocks_of(said_of_zones(settings), readers, people)
        found = Surroundings(**vars(clocks), cells=cells)
        self._surroundings = newest, found
        return found

    def _orders(self) -> dict[str, str]:
        """Return the order of dates that kept layouts state, by the layout's name and by its reader's."""
        stated = [(name, kept) for name, kept in self.layouts.by_name.items() if kept.date_order]
        return {origin: kept.date_order for name, kept in stated for origin in (name, kept.reader) if origin}
