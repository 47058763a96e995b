"""What the files of one go are read by: the layouts kept, and the clocks of readers and people."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import polars as pl

from evenhand.jobs.kept_layouts import KeptLayouts
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.taking import newest_take
from evenhand.terms.workplace import rules_by_site, site_zones

__all__ = ["Known", "Surroundings"]


@dataclass(frozen=True)
class Surroundings:
    """The IANA zone of each reader, of each site, and of each person whose site has one."""

    reader_zones: Mapping[str, str]
    site_zones: Mapping[str, str]
    person_zones: Mapping[str, str]


class Known:
    """A workspace's layouts and surroundings, read again only once a file has changed them."""

    def __init__(self, workspace: Workspace) -> None:
        self.workspace = workspace
        self.layouts = KeptLayouts(workspace.layouts)
        self._surroundings: tuple[int, Surroundings] | None = None

    def surroundings(self) -> Surroundings:
        """Return the clocks as the store has them now."""
        with self.workspace.store.reading() as conn:
            newest = newest_take(conn, ("readers", "people"))
            if self._surroundings is not None and self._surroundings[0] == newest:
                return self._surroundings[1]
            readers, people = frames.readers(conn), frames.people(conn)
        settings = self.workspace.settings
        rules = rules_by_site(settings, readers, people)
        placed = people.select("person", pl.col("site").fill_null("")).rows()
        found = Surroundings(
            dict(readers.select("reader", "zone").rows()),
            site_zones(settings, readers),
            {person: rules[site].zone for person, site in placed if site in rules},
        )
        self._surroundings = newest, found
        return found
