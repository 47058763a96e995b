"""What the checks look at."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from evenhand.enrolment.proof import PROOF
from evenhand.scores import ALARMS, FORECASTS, READER_HEALTH, REFUSED_HANDS
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Period, Settings
from evenhand.terms.tables import BREACHES, PROPOSALS
from evenhand.terms.wages import PAY_FAULTS, PAY_WEEKS, ROUNDING

__all__ = ["Check", "Facts"]


@dataclass(frozen=True)
class Check:
    """What one check is about; its `code` is the name of its module and of its findings."""

    code: str
    title: str
    why: str
    next_step: str


@dataclass(frozen=True)
class Facts:
    """Everything the checks may look at, as of one instant; any frame may be empty.

    `recorded` should reach some weeks back, so that what is usual can be told; `owned`, `unowned` and the
    frames of hours may reach beyond the period, checks that block pay look at the period only.
    `settled` holds the keys of findings that somebody has settled. `settings.sites` holds the rules of every site
    that hours are worked out for; `assumed_sites` names those whose rules are the default, because nobody set any.
    `proof` (PROOF) is what the punches say of the last weeks' rounds.
    `proposals` (PROPOSALS) say when missing punches may have been, `breaches` (BREACHES) which limits on working time
    were not kept.
    `health` (READER_HEALTH), `refused_hands` (REFUSED_HANDS), `alarms` (ALARMS) and `forecasts` (FORECASTS) are what
    the watch over scores and refusals tells of readers and hands.
    """

    as_of: int
    today: date
    settings: Settings
    period: Period
    people: Frame
    readers: Frame
    enrolments: Frame
    recorded: Frame
    owned: Frame
    unowned: Frame
    consent: Frame
    discrepancies: Frame
    reader_steps: Frame
    classed: Frame
    weeks: Frame
    questions: Frame
    steps: Frame
    settled: frozenset[str] = frozenset()
    assumed_sites: frozenset[str] = frozenset()
    proposals: Frame = field(default_factory=PROPOSALS.empty)
    breaches: Frame = field(default_factory=BREACHES.empty)
    proof: Frame = field(default_factory=PROOF.empty)
    pay_weeks: Frame = field(default_factory=PAY_WEEKS.empty)
    pay_faults: Frame = field(default_factory=PAY_FAULTS.empty)
    rounding: Frame = field(default_factory=ROUNDING.empty)
    health: Frame = field(default_factory=READER_HEALTH.empty)
    refused_hands: Frame = field(default_factory=REFUSED_HANDS.empty)
    alarms: Frame = field(default_factory=ALARMS.empty)
    forecasts: Frame = field(default_factory=FORECASTS.empty)

    @cached_property
    def names(self) -> dict[str, str]:
        """Return each person's name."""
        return dict(self.people.select("person", "name").iter_rows())

    @cached_property
    def sites(self) -> dict[str, str | None]:
        """Return each person's site."""
        return dict(self.people.select("person", "site").iter_rows())

    @cached_property
    def reader_sites(self) -> dict[str, str]:
        """Return each reader's site."""
        return dict(self.readers.select("reader", "site").iter_rows())

    @cached_property
    def reader_zones(self) -> dict[str, str]:
        """Return the zone of each reader's clock."""
        return dict(self.readers.select("reader", "zone").iter_rows())

    @cached_property
    def _enrolled(self) -> dict[str, int]:
        return dict(self.enrolments.group_by("reader").len().iter_rows())

    def enrolled_at(self, reader: str) -> int:
        """Return how many hands are enrolled at a reader."""
        return self._enrolled.get(reader, 0)

    @cached_property
    def punches_of(self) -> dict[str, Frame]:
        """Return each person's accepted punches (OWNED), by time."""
        return {str(key[0]): rows for key, rows in self.owned.sort("at").partition_by("person", as_dict=True).items()}

    @cached_property
    def refusals_of(self) -> dict[str, Frame]:
        """Return the refused presentations (RECORDED) under each number, by time."""
        refused = self.recorded.filter(self.recorded["outcome"] == "refused").sort("at")
        return {str(key[0]): rows for key, rows in refused.partition_by("number", as_dict=True).items()}

    @cached_property
    def numbers(self) -> dict[str, str | None]:
        """Return each person's number on the roster."""
        return dict(self.people.select("person", "number").iter_rows())

    @cached_property
    def zone(self) -> str:
        """Return the workplace's zone: the one most readers stand in, else the first site's, else UTC."""
        zones = sorted(self.reader_zones.values())
        if zones:
            return max(zones, key=zones.count)
        return next((rules.zone for rules in self.settings.sites.values()), "UTC")

    def zone_of(self, person: str | None) -> str:
        """Return the zone of the person's site, else the workplace's."""
        site = self.sites.get(person or "")
        rules = self.settings.sites.get(site or "")
        if rules:
            return rules.zone
        there = [zone for reader, zone in self.reader_zones.items() if self.reader_sites[reader] == site]
        return there[0] if there else self.zone
