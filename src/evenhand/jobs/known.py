"""What the files of one go are read by: the layouts kept, the clocks of readers and people, what cells may be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import polars as pl

from evenhand import layouts
from evenhand.jobs.incoming import Incoming
from evenhand.jobs.kept_layouts import KeptLayouts
from evenhand.jobs.workspace import Workspace
from evenhand.layouts import Answers, KnownCells, Proposal
from evenhand.store import frames
from evenhand.store.taking import newest_take
from evenhand.terms.workplace import rules_by_site, site_zones

__all__ = ["Known", "Surroundings"]


@dataclass(frozen=True)
class Surroundings:
    """The IANA zone of each reader, of each site, and of each person whose site has one; and what cells are known."""

    reader_zones: Mapping[str, str]
    site_zones: Mapping[str, str]
    person_zones: Mapping[str, str]
    cells: KnownCells


class Known:
    """A workspace's layouts and surroundings, read again only once a file has changed them.

    `today` is the day on which the files are looked at, where that is known.
    """

    def __init__(self, workspace: Workspace, today: date | None = None) -> None:
        self.workspace = workspace
        self.layouts = KeptLayouts(workspace.layouts)
        self._today = today
        self._surroundings: tuple[int, Surroundings] | None = None
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
            newest = newest_take(conn, ("readers", "people"))
            if self._surroundings is not None and self._surroundings[0] == newest:
                return self._surroundings[1]
            readers, people = frames.readers(conn), frames.people(conn)
            enrolled = frames.enrolments(conn)["number"]
        settings = self.workspace.settings
        rules = rules_by_site(settings, readers, people)
        placed = people.select("person", pl.col("site").fill_null("")).rows()
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
        found = Surroundings(
            dict(readers.select("reader", "zone").rows()),
            site_zones(settings, readers),
            {person: rules[site].zone for person, site in placed if site in rules},
            cells,
        )
        self._surroundings = newest, found
        return found

    def _orders(self) -> dict[str, str]:
        """Return the order of dates that kept layouts state, by the layout's name and by its reader's."""
        stated = [(name, kept) for name, kept in self.layouts.by_name.items() if kept.date_order]
        return {origin: kept.date_order for name, kept in stated for origin in (name, kept.reader) if origin}
