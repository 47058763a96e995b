"""Read what a computation needs, once: every frame, the settings as they are now, and one revision."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property, partial
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.jobs import folder_state
from evenhand.jobs.person_called import person_called
from evenhand.jobs.punches_read import numbers_of_several, presentations_last_seen, punches_around
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.ledger import head as head_of_ledger
from evenhand.store.own_rules import read_own_rules
from evenhand.store.revision import Revision
from evenhand.store.revision import revision as revision_of
from evenhand.store.sections import read_text
from evenhand.store.settings import parse_settings
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.parameters import OwnRules
from evenhand.terms.records import Refusal, WatchedFolder
from evenhand.terms.settings import Settings, SiteRules
from evenhand.terms.tables import CORRECTIONS
from evenhand.terms.workplace import not_left, rules_by_site, rules_of_site, workplace_paper, workplace_zone, zones_meet

__all__ = ["EDGE_DAYS", "Snapshot", "edge_days", "settled_now", "take_snapshot"]

# Punches before and after the weeks asked for decide how a stretch at their edge pairs.
# The 14 days of the 8 and 80 system may begin a workweek earlier; work periods of 28 days three (`edge_days`).
EDGE_DAYS = 15

READ = (
    "people",
    "readers",
    "enrolments",
    "schedules",
    "consent",
    "rates",
    "earnings",
    "takes",
    "corrections",
    "premium_decisions",
    "rejected_attributions",
    "consent_policies",
    "consent_decisions",
    "settled",
    "handoffs",
    "adjustments",
    "holds",
    "rounds",
    "round_items",
    "outcomes",
    "signoffs",
    "disputes",
    "dispute_answers",
    "suggestions",
    "suggestion_answers",
    "take_decisions",
    "erasures",
    "practices",
    "own_steps",
)


OF_PEOPLE = {
    "schedules",
    "consent",
    "rates",
    "earnings",
    "corrections",
    "premium_decisions",
    "rejected_attributions",
    "consent_decisions",
    "holds",
    "round_items",
    "signoffs",
    "disputes",
    "suggestions",
    "practices",
}
"""What is read of people by their identifiers of now, whichever it was written under."""
RESTING = {
    "gone_people": {"people"},
    "clock_changes": {"readers"},
    "earlier_last_days": {"people"},
    "former_numbers": {"people"},
    "roster_told": {"people"},
    "rosters_taken": {"people", "takes"},
    "settings_noticed": {"settings_texts"},
    "numbers_told": {"people", "enrolments"},
    "written_zones": {"takes"},
    "take_spans": {"takes"},
    "consent_takes": {"consent", "people"},
    "enrolment_history": {"enrolments", "takes"},
    "hands_replaced": {"enrolments", "takes"},
}
"""What is read beside the tables, and which of them it rests on."""
ENDING = {"people", "enrolments", "consent", "consent_decisions"}
"""What may end the purpose of holding a hand, so that it is to be known when it was last laid down."""


@dataclass(frozen=True)
class Snapshot:
    """What was taken and decided, and the settings, as of one instant of the store; nothing below reads the store.

    `recorded` (RECORDED) reaches `edge_days` before the workweeks that begin on `first`, and as far beyond those that
    begin on `last`, or to the last punch there is where that is None; for whoever is paid in them for a longer time it
    reaches back over that time. `handed_off_lines` (HANDED_OFF_LINES) are of the periods that end on `first` or later,
    and so are `printed_figures` (PRINTED by the file's number).
    The other frames are whole, and named as their tables are. `head` is the ledger's as it was read with them, as
    people write it down.
    """

    where: str
    settings: Settings
    settings_text: str
    own: Mapping[str, OwnRules]
    watched: WatchedFolder
    revision: Revision
    head: str
    first: date
    last: date | None
    people: Frame
    readers: Frame
    enrolments: Frame
    schedules: Frame
    consent: Frame
    rates: Frame
    earnings: Frame
    takes: Frame
    corrections: Frame
    premium_decisions: Frame
    rejected_attributions: Frame
    consent_policies: Frame
    consent_decisions: Frame
    settled: Frame
    handoffs: Frame
    adjustments: Frame
    holds: Frame
    rounds: Frame
    round_items: Frame
    outcomes: Frame
    signoffs: Frame
    disputes: Frame
    dispute_answers: Frame
    suggestions: Frame
    suggestion_answers: Frame
    take_decisions: Frame
    erasures: Frame
    practices: Frame
    own_steps: Frame
    gone_people: Frame
    clock_changes: Frame
    earlier_last_days: Frame
    former_numbers: Frame
    roster_told: Frame
    rosters_taken: Frame
    settings_noticed: Frame
    numbers_told: Frame
    written_zones: Frame
    take_spans: Frame
    consent_takes: Frame
    enrolment_history: Frame
    hands_replaced: Frame
    last_seen: Frame
    presented: Frame
    handed_off_lines: Frame
    printed_figures: Mapping[int, Frame]
    recorded: Frame

    @cached_property
    def zone(self) -> str:
        """Return the zone in which the workplace as a whole counts its days."""
        return workplace_zone(self.settings, self.readers)

    @cached_property
    def paper(self) -> str:
        """Return on which of PAPERS the workplace prints."""
        return workplace_paper(self.settings, self.readers)

    @cached_property
    def zones_meet(self) -> bool:
        """Whether the workplace goes by clocks of several zones, so that a time names its own."""
        return zones_meet(self.settings, self.readers)

    @cached_property
    def rules(self) -> dict[str, SiteRules]:
        """Return the rules of each site on the roster that has any."""
        return rules_by_site(self.settings, self.readers, self.people)

    def rules_of(self, site: str | None) -> SiteRules:
        """Return the rules that bind `site`; raises Refusal where no zone follows for it."""
        # asked once a row: sites on the roster are worked out once, and only others anew
        rules = self.rules.get(site or "") or rules_of_site(self.settings, self.readers, site)
        if rules is not None:
            return rules
        raise Refusal(
            told(
                '{where}: no time zone is known for site "{site}", where no reader hangs; add zone under [workplace], '
                'or a table [site."{site}"] with its zone.',
                where=self.where,
                site=site,
            )
            if site
            else told(
                "{where}: no time zone is known for people without a site; add zone under [workplace].",
                where=self.where,
            )
        )

    @cached_property
    def listed(self) -> Frame:
        """Return whom the roster lists still (PEOPLE), whether or not they have left."""
        return self.people.join(self.gone_people, on="person", how="anti", maintain_order="left")

    def here(self, on: date) -> Frame:
        """Return whom the roster lists still and who has not left before a day (PEOPLE)."""
        return self.listed.filter(not_left(on))

    @cached_property
    def numbers_held(self) -> reconcile.NumbersHeld:
        """Return who held which number from when to when, by all that rosters said of it."""
        days = reconcile.days_taken(self.rosters_taken, self.zone)
        return reconcile.numbers_held(self.people, self.roster_told, self.gone_people, days)

    @property
    def holding(self) -> Frame:
        """Return the roster (PEOPLE) for whose punches are whose: with every number that anybody held, while they did.

        Somebody who held several, or came back, is there several times; `hired_on` and `left_on` bound each.
        """
        return self.numbers_held.people

    @cached_property
    def last_seen_of(self) -> Frame:
        """Return the last presentation of each holder of a number at each reader: reader, number, person, last_at."""
        return reconcile.last_seen_of(self.last_seen, self.presented_by, self.holding)

    @cached_property
    def presented_by(self) -> Frame:
        """Return what came under numbers that several had, with whose it is; see `reconcile.presented_by`."""
        zones = dict(self.readers.select("reader", "zone").iter_rows())
        return reconcile.presented_by(self.presented, self.holding, zones, self.zone)

    @cached_property
    def standing_corrections(self) -> Frame:
        """Return the corrections (CORRECTIONS) that count: none that is taken back, and none that takes one back."""
        return reconcile.standing(self.corrections)

    @cached_property
    def settled_now(self) -> Frame:
        """Return the last word (SETTLED) on each finding that was answered and is not open again, in order."""
        return settled_now(self.settled)

    @cached_property
    def names(self) -> dict[str, str]:
        """Return everybody's name by identifier."""
        return dict(self.people.select("person", "name").iter_rows())

    @property
    def last_correction(self) -> int:
        """Return the highest number of a correction, 0 where there is none; all up to it are in the snapshot.

        A correction has its number only once those with lower ones are there: `store.decisions.decide_alone`.
        """
        return int(self.corrections["correction"].max() or 0)  # type: ignore[arg-type]

    def find_person(self, text: str) -> dict[str, Any]:
        """Return the roster's row for an identifier, a number, or a name that only one person has."""
        return person_called(self.people, text)

    def with_corrections(self, rows: Sequence[Mapping[str, Any]]) -> Snapshot:
        """Return the snapshot with corrections added as if they had been made: CORRECTIONS without their numbers."""
        numbered = CORRECTIONS.rows(
            {**row, "correction": self.last_correction + at} for at, row in enumerate(rows, start=1)
        )
        return replace(self, corrections=pl.concat([self.corrections, numbered]))

    def up_to(self, correction: int) -> Snapshot:
        """Return the snapshot as it was when the correction of this number was the last one."""
        known = self.corrections.filter(pl.col("correction") <= correction)
        return self if known.height == self.corrections.height else replace(self, corrections=known)

    @property
    def edge_days(self) -> int:
        """Return how many days before a workweek its punches reach: to the beginning of the longest period there is."""
        return edge_days(self.settings)

    def covers(self, first: date, last: date) -> bool:
        """Whether the hours of the workweeks that begin from `first` to `last` can be worked out from it."""
        return self.first <= first and (self.last is None or last <= self.last)


def edge_days(settings: Settings) -> int:
    """Return how many days of punches before a workweek decide it, by the longest period that may have begun before.

    A period of 28 days may begin 21 before, and what pairs over its beginning lies within eight more, as elsewhere.
    """
    periods = (one.work_period_days for site in settings.sites.values() for one in (site, *site.changes))
    return max([EDGE_DAYS, *(days + 1 for days in periods)])


def settled_now(settled: Frame) -> Frame:
    """Return the last word (SETTLED) on each finding that was answered and is not open again, in order."""
    return settled.unique("finding", keep="last", maintain_order=True).filter(~pl.col("is_withdrawn"))


def take_snapshot(
    workspace: Workspace,
    first: date,
    last: date | None = None,
    *,
    like: Snapshot | None = None,
    within: Connection | None = None,
) -> Snapshot:
    """Return a snapshot for the workweeks that begin from `first` on, up to `last` or to the end.

    What has not changed since `like` is taken from it, frame by frame, so that nothing is read twice; `like` itself is
    returned where nothing has. `within` is a transaction to read in, also what it has not committed.
    """
    text = read_text(workspace.settings_file)
    settings = parse_settings(text, workspace.settings_file)
    workspace.refuse_another_store(settings)
    with nullcontext(within) if within else workspace.store.reading() as conn:
        revision = revision_of(conn)
        changed = {*READ, "punches", "settings_texts"} if like is None else set(revision.changed_since(like.revision))
        if "punches" in changed:  # a correction whose punch had gone may hold on to one again
            changed.add("corrections")
        if "people" in changed:  # whoever was listed by a number may have an identifier now
            changed |= OF_PEOPLE
        own = read_own_rules(workspace.rules)
        folder = folder_state.look(workspace)
        edge = edge_days(settings)
        reaches = like is not None and like.covers(first, last or first) and (last is not None or like.last is None)
        reaches = reaches and like is not None and edge <= like.edge_days
        if like is not None and reaches and _besides(like) == (revision, text, own, folder):
            return like
        changed |= {name for name, tables in RESTING.items() if changed & tables}
        read: dict[str, Frame] = {
            name: getattr(frames, name)(conn) if name in changed else getattr(like, name) for name in (*READ, *RESTING)
        }
        if like is not None and read["rosters_taken"].equals(like.rosters_taken):
            read["rosters_taken"] = like.rosters_taken  # what rests on it is the same after a file of another kind
        if like is not None and reaches and changed.isdisjoint({"punches", "people", "earnings"}):
            first, last, recorded = like.first, like.last, like.recorded
        else:
            recorded = punches_around(partial(frames.recorded, conn), read, first, last, edge)
        if like is not None and recorded is like.recorded and changed.isdisjoint(ENDING):
            seen, presented = like.last_seen, like.presented
        else:
            seen = presentations_last_seen(partial(frames.last_seen, conn), read, recorded)
            presented = frames.presented(conn, numbers_of_several(read["roster_told"]))
        if like is not None and reaches and changed.isdisjoint({"handoffs", "adjustments"}):
            told, printed = like.handed_off_lines, like.printed_figures
        else:
            told, printed = frames.handed_off_lines(conn, first), frames.printed_figures(conn, first)
        now = head_of_ledger(conn)
    return Snapshot(
        where=str(workspace.settings_file),
        settings=settings,
        settings_text=text,
        own=own,
        watched=folder,
        revision=revision,
        head=now.in_groups,
        first=first,
        last=last,
        handed_off_lines=told,
        printed_figures=printed,
        recorded=recorded,
        last_seen=seen,
        presented=presented,
        **read,
    )


def _besides(like: Snapshot) -> tuple[object, ...]:
    return like.revision, like.settings_text, like.own, like.watched
