"""What the checks look at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

import polars as pl

from evenhand.enrolment.proof import PROOF
from evenhand.enrolment.rounds import STATES
from evenhand.records.retention import REMOVALS
from evenhand.scores import ALARMS, FORECASTS, READER_HEALTH, REFUSED_HANDS
from evenhand.terms.closing import ClosedPeriod
from evenhand.terms.columns import Frame
from evenhand.terms.consent import CONSENT_STATES, EARLY_ENROLMENTS, unreleased
from evenhand.terms.files_told import CLOCK_CHANGES, FILES, GONE_PEOPLE, NUMBERS_TOLD, TAKE_SPANS, WRITTEN_ZONES
from evenhand.terms.hours import BREACHES, ELSEWHERE, PROPOSALS, QUESTIONS, WEEKS
from evenhand.terms.records import WatchedFolder
from evenhand.terms.settings import Period, Settings
from evenhand.terms.signing import OPEN_DISPUTES, UNAPPROVED, UNDONE_SIGNOFFS
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS
from evenhand.terms.suggestions import SUGGESTIONS
from evenhand.terms.supervision import OWN_DECISIONS, SUPERVISION, UNCOVERED
from evenhand.terms.tables import (
    ATTRIBUTED,
    DISCREPANCIES,
    GAPS,
    GIVEN,
    NUMBER_DOUBTS,
    OVERTAKEN_ATTRIBUTIONS,
    READER_STEPS,
    RECORDED,
    SEEN,
)
from evenhand.terms.wages import PAY_FAULTS, PAY_WEEKS, ROUNDING
from evenhand.terms.workplace import zones_meet

__all__ = ["Check", "Facts"]

USUAL = 0.2
"""The part of somebody's punches from which on they come to a reader usually (common practice, no source)."""


@dataclass(frozen=True)
class Check:
    """What one check is about; its `code` is that of its findings."""

    code: str
    title: str
    why: str
    next_step: str


@dataclass(frozen=True)
class Facts:
    """Everything the checks may look at, as of one instant; a frame that is not given is empty.

    `zone` is the workplace's. `recorded` and what was `seen` in it (SEEN) should reach some weeks back; `attributed`,
    `unattributed` and the frames of hours may reach beyond the period, checks that block pay look at the period only.
    `settled` tells by the keys of findings that somebody has settled when that was. `settings.sites` holds the rules of
    every site that hours are worked out for; `assumed_sites` names those whose rules are the default, because nobody
    set any.
    `consent` (CONSENT_STATES) says how each person stands with the policy on hands, `early_enrolments`
    (EARLY_ENROLMENTS) whose hand came before their release.
    `proof` (PROOF) is what the punches say of the last weeks' rounds.
    `proposals` (PROPOSALS) say when missing punches may have been, `breaches` (BREACHES) which limits on working time
    were not kept, `elsewhere` (ELSEWHERE) where the law of the place of work gives more.
    `health` (READER_HEALTH), `refused_hands` (REFUSED_HANDS), `alarms` (ALARMS) and `forecasts` (FORECASTS) are what
    the watch over scores and refusals tells of readers and hands. `watched` is the folder in which files are taken by
    themselves.
    `files` (FILES) names the files taken; `gone_people` (GONE_PEOPLE), `clock_changes` (CLOCK_CHANGES),
    `written_zones` (WRITTEN_ZONES), `take_spans` (TAKE_SPANS) and `numbers_told` (NUMBERS_TOLD) are what they told of
    people, clocks, times and numbers. `gaps` (GAPS) are where the period is not whole,
    `supervision` (SUPERVISION) says who may enrol others where and what proves it, `uncovered` (UNCOVERED) when none of
    them is there, `own_decisions` (OWN_DECISIONS) who decided about themselves;
    `closed` what has changed in periods that were handed off. `overtaken` (OVERTAKEN_ATTRIBUTIONS) are punches
    given away by hand whose number is somebody else's since. `undone` (UNDONE_SIGNOFFS) are sign-offs of hours that
    have changed since, `unapproved` (UNAPPROVED) whose hours the settings want approved, `disputes` (OPEN_DISPUTES)
    what waits for an answer, `suggestions` (SUGGESTIONS) what supervisors say of open questions and nobody has decided
    on. `removals` (REMOVALS) are the hands that must be gone.
    `strays` (RECORDED) are the unattributed punches of earlier periods too, `handed_off` the days of the periods that
    payroll has; `given` (GIVEN) is what somebody gave to whom, `on_rounds` (STATES) what the last weeks' rounds hold,
    `number_doubts` (NUMBER_DOUBTS) when a number that changed hands may have been either one's.
    """

    as_of: int
    today: date
    zone: str
    settings: Settings
    period: Period
    people: Frame = field(default_factory=PEOPLE.empty)
    readers: Frame = field(default_factory=READERS.empty)
    enrolments: Frame = field(default_factory=ENROLMENTS.empty)
    recorded: Frame = field(default_factory=RECORDED.empty)
    seen: Frame = field(default_factory=SEEN.empty)
    attributed: Frame = field(default_factory=ATTRIBUTED.empty)
    unattributed: Frame = field(default_factory=RECORDED.empty)
    consent: Frame = field(default_factory=CONSENT_STATES.empty)
    early_enrolments: Frame = field(default_factory=EARLY_ENROLMENTS.empty)
    discrepancies: Frame = field(default_factory=DISCREPANCIES.empty)
    reader_steps: Frame = field(default_factory=READER_STEPS.empty)
    weeks: Frame = field(default_factory=WEEKS.empty)
    questions: Frame = field(default_factory=QUESTIONS.empty)
    settled: Mapping[str, int] = field(default_factory=dict)
    assumed_sites: frozenset[str] = frozenset()
    proposals: Frame = field(default_factory=PROPOSALS.empty)
    breaches: Frame = field(default_factory=BREACHES.empty)
    elsewhere: Frame = field(default_factory=ELSEWHERE.empty)
    proof: Frame = field(default_factory=PROOF.empty)
    pay_weeks: Frame = field(default_factory=PAY_WEEKS.empty)
    pay_faults: Frame = field(default_factory=PAY_FAULTS.empty)
    rounding: Frame = field(default_factory=ROUNDING.empty)
    health: Frame = field(default_factory=READER_HEALTH.empty)
    refused_hands: Frame = field(default_factory=REFUSED_HANDS.empty)
    alarms: Frame = field(default_factory=ALARMS.empty)
    forecasts: Frame = field(default_factory=FORECASTS.empty)
    files: Frame = field(default_factory=FILES.empty)
    gone_people: Frame = field(default_factory=GONE_PEOPLE.empty)
    clock_changes: Frame = field(default_factory=CLOCK_CHANGES.empty)
    numbers_told: Frame = field(default_factory=NUMBERS_TOLD.empty)
    written_zones: Frame = field(default_factory=WRITTEN_ZONES.empty)
    take_spans: Frame = field(default_factory=TAKE_SPANS.empty)
    gaps: Frame = field(default_factory=GAPS.empty)
    closed: tuple[ClosedPeriod, ...] = ()
    overtaken: Frame = field(default_factory=OVERTAKEN_ATTRIBUTIONS.empty)
    undone: Frame = field(default_factory=UNDONE_SIGNOFFS.empty)
    unapproved: Frame = field(default_factory=UNAPPROVED.empty)
    suggestions: Frame = field(default_factory=SUGGESTIONS.empty)
    disputes: Frame = field(default_factory=OPEN_DISPUTES.empty)
    removals: Frame = field(default_factory=REMOVALS.empty)
    watched: WatchedFolder = field(default_factory=WatchedFolder)
    supervision: Frame = field(default_factory=SUPERVISION.empty)
    uncovered: Frame = field(default_factory=UNCOVERED.empty)
    own_decisions: Frame = field(default_factory=OWN_DECISIONS.empty)
    strays: Frame = field(default_factory=RECORDED.empty)
    handed_off: tuple[tuple[date, date], ...] = ()
    given: Frame = field(default_factory=GIVEN.empty)
    number_doubts: Frame = field(default_factory=NUMBER_DOUBTS.empty)
    on_rounds: Frame = field(default_factory=STATES.empty)

    @cached_property
    def names(self) -> dict[str, str]:
        """Return each person's name."""
        return dict(self.people.select("person", "name").iter_rows())

    @cached_property
    def unreleased(self) -> frozenset[str]:
        """Return who is not to be enrolled, since a release is required and none is in force."""
        return unreleased(self.consent)

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
    def reader_places(self) -> dict[str, tuple[str, str]]:
        """Return the zone and the site of each reader."""
        return {row[0]: (row[1], row[2]) for row in self.readers.select("reader", "zone", "site").iter_rows()}

    @cached_property
    def site_zones(self) -> dict[str, str]:
        """Return each site's zone: by its rules, else that of its first reader; '' is people without a site."""
        of_readers = self.readers.unique("site", keep="first", maintain_order=True).select("site", "zone")
        return dict(of_readers.iter_rows()) | {site: rules.zone for site, rules in self.settings.sites.items()}

    @cached_property
    def strays_of(self) -> dict[str, list[tuple[str, str, int]]]:
        """Return by person the reader, number and instant of punches that may be theirs, by time.

        They are nobody's, or count for whoever holds the number while somebody else's hand may stand under it: then
        they may be either's, and both are told.
        """
        place = ["reader", "number"]
        meant = self.discrepancies_of("unattributed_punches").drop_nulls("person").select("person", *place)
        nobodys = meant.join(self.unattributed.select(*place, "at"), on=place)
        shared = (
            self.discrepancies_of("shared_number").drop_nulls("reader").select(*place, hand="person", holder="other")
        )
        theirs = self.attributed.select("reader", "at", holder="person")
        mixed = shared.join(theirs, on=["reader", "holder"]).unpivot(
            ["hand", "holder"], index=[*place, "at"], variable_name="which", value_name="person"
        )
        asked = pl.concat([nobodys, mixed.select(nobodys.columns)]).drop_nulls("person").sort("at")
        found: dict[str, list[tuple[str, str, int]]] = {}
        for person, reader, number, at in asked.iter_rows():
            found.setdefault(person, []).append((reader, number, at))
        return found

    @cached_property
    def meant_by(self) -> dict[str, str]:
        """Return by stray, READER/NUMBER, the person whose hand seems to stand under it."""
        meant = self.discrepancies_of("unattributed_punches").drop_nulls("person")
        strays = meant.select(pl.format("{}/{}", "reader", "number"), "person")
        return dict(strays.iter_rows())

    @cached_property
    def usual_readers(self) -> dict[str, tuple[str, ...]]:
        """Return by person the readers that accept a good part of what comes under their number."""
        known = self.people.select("person", "number").drop_nulls()
        punches = self.seen.filter(pl.col("punches") > 0).join(known, on="number")
        most = pl.col("punches") >= USUAL * pl.col("punches").sum().over("person")
        at = punches.filter(most).sort("reader").group_by("person").agg("reader")
        return {person: tuple(readers) for person, readers in at.iter_rows()}

    @cached_property
    def zones_meet(self) -> bool:
        """Whether the workplace, its sites and its readers are in more than one zone, so that a time names its own."""
        return zones_meet(self.settings, self.readers)

    @cached_property
    def _enrolled(self) -> dict[str, int]:
        return dict(self.enrolments.group_by("reader").len().iter_rows())

    @cached_property
    def _by_kind(self) -> dict[str, Frame]:
        parts = self.discrepancies.partition_by("kind", as_dict=True, maintain_order=True)
        return {str(kind): rows for (kind,), rows in parts.items()}

    def enrolled_at(self, reader: str) -> int:
        """Return how many hands are enrolled at a reader."""
        return self._enrolled.get(reader, 0)

    def discrepancies_of(self, kind: str) -> Frame:
        """Return the discrepancies (DISCREPANCIES) of one kind, in the frame's order."""
        return self._by_kind.get(kind, self.discrepancies.clear())

    def zone_of(self, person: str | None) -> str:
        """Return the zone of the person's site, else the workplace's."""
        return self.site_zones.get(self.sites.get(person or "") or "", self.zone)

    def zones_of_people(self) -> Frame:
        """Return person, number and `zone`: that of the person's site, else the workplace's."""
        sites = pl.col("site").fill_null("")
        zone = sites.replace_strict(self.site_zones, default=self.zone, return_dtype=pl.String)
        return self.people.select("person", "number", zone=zone)
