"""The clocks that place a file's times: those of the readers, and those at the sites where people work."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

import polars as pl

from evenhand import layouts
from evenhand.layouts import Layout, Rows, SourceFile
from evenhand.terms.columns import Frame
from evenhand.terms.settings import PayPeriod, Settings, SiteRules
from evenhand.terms.workplace import rules_by_site, site_zones

__all__ = ["Clocks", "clocks_of", "said_of_zones"]

NO_PERIOD = PayPeriod(date(2000, 1, 2))


@dataclass(frozen=True)
class Clocks:
    """The IANA zone of each reader, of each site, and of each person whose site has one.

    `said` is what the settings say of zones (JSON), which decides together with the readers and the roster.
    """

    said: str
    reader_zones: Mapping[str, str]
    site_zones: Mapping[str, str]
    person_zones: Mapping[str, str]

    def digest(self, table: str) -> str:
        """Return the digest of the clocks that place the times of a file of `table`; '' where none do."""
        if table == "punches":
            return _digest([self.reader_zones])
        return _digest([self.site_zones, self.person_zones]) if table == "schedules" else ""

    def read(self, file: SourceFile, layout: Layout, progress: Callable[[str, float], None] | None = None) -> Rows:
        """Return the rows of a file, its times placed by these clocks; raises Refusal as `layouts.read` does."""
        return layouts.read(
            file,
            layout,
            zones=self.reader_zones,
            site_zones=self.site_zones,
            person_zones=self.person_zones,
            progress=progress,
        )


def said_of_zones(settings: Settings) -> str:
    """Return what the settings say of zones, as JSON: the workplace's own, and those of its sites."""
    sites = {name: rules.zone for name, rules in settings.sites.items()}
    return json.dumps({"workplace": settings.zone, "sites": sites}, sort_keys=True, ensure_ascii=False)


def clocks_of(said: str, readers: Frame, people: Frame) -> Clocks:
    """Return the clocks that follow from the readers (READERS), the roster (PEOPLE) and what the settings say."""
    zones = json.loads(said)
    sites = {name: SiteRules(name, zone) for name, zone in zones["sites"].items()}
    settings = Settings("", NO_PERIOD, zone=zones["workplace"], sites=sites)
    rules = rules_by_site(settings, readers, people)
    placed = people.select("person", pl.col("site").fill_null("")).rows()
    return Clocks(
        said,
        dict(readers.select("reader", "zone").rows()),
        site_zones(settings, readers),
        {person: rules[site].zone for person, site in placed if site in rules},
    )


def _digest(zones: list[Mapping[str, str]]) -> str:
    return hashlib.sha256(json.dumps(zones, sort_keys=True).encode()).hexdigest()
