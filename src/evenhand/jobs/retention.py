"""What must be gone and what must stay: each person's clocks, worked out from one snapshot."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property

import polars as pl

from evenhand import reconcile
from evenhand.enrolment.rounds import round_states, still_to_do
from evenhand.jobs.consents import consent_states
from evenhand.jobs.holds import standing_holds
from evenhand.jobs.snapshot import Snapshot
from evenhand.records import retention
from evenhand.records.retention import Lapse, Law, Term
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence
from evenhand.terms.settings import Settings

__all__ = ["Clocked", "own_laws", "place_of_site"]

NO_MORE = {
    "withdrawn": sentence("consent withdrawn"),
    "refused": sentence("enrolment refused"),
    "other_way": sentence("another way to clock chosen"),
}
OF_JURISDICTION = {
    "alaska": "US-AK",
    "california": "US-CA",
    "colorado": "US-CO",
    "nevada": "US-NV",
    "eu_2003_88": "EU",
}
"""Where the rules of hours name a state, its laws of records bind too; the other rules are federal."""


def place_of_site(of: Snapshot, site: str | None) -> str:
    """Return where the laws of a site are looked for (ISO 3166): as set, else as its rules of hours tell.

    Rules of the workplace's own tell it by those they are based on.
    """
    rules = of.settings.sites.get(site or "")
    if rules is not None and rules.place:
        return rules.place
    name = rules.jurisdiction if rules else ""
    shipped = of.own[name].based_on if name in of.own else name
    return of.settings.retention.place or OF_JURISDICTION.get(shipped, "US")


def own_laws(settings: Settings) -> tuple[Law, ...]:
    """Return what the workplace decided for itself, as a law of its own; none where it did not."""
    years = settings.retention.keep_years
    if not years:
        return ()
    return (
        Law(
            "own",
            "",
            "keep",
            sentence("time records"),
            (Term("last_entry", Lapse(years=years)),),
            sentence("evenhand.toml, [retention] keep_years"),
            date(1970, 1, 1),
            "common practice, no source",
            sentence("the workplace's own decision"),
        ),
    )


@dataclass(frozen=True)
class Clocked:
    """Everybody's clocks as of a day."""

    of: Snapshot
    on: date

    @cached_property
    def hands(self) -> Frame:
        """Return whose hand each reader holds or held (HELD_HANDS), with what rounds say of taking it off."""
        of = self.of
        listed = _listed(of)
        without_list = of.readers.join(of.enrolment_history, on="reader", how="anti").select("reader")
        used = of.last_seen_of.join(without_list, on="reader", how="semi")
        unlisted = used.select("reader", "number", "person", is_listed=pl.lit(value=False))
        hands = pl.concat([listed, unlisted], how="diagonal")
        hands = hands.join(of.last_seen_of, on=["reader", "number", "person"], how="left")
        hands = hands.with_columns(
            _day("last_at", hands, self.zones).alias("last_interaction"),
            _day("gone_at", hands, self.zones).alias("gone_on"),
        )
        hands = hands.join(_told_by_rounds(of, self.on), on=["reader", "number"], how="left")
        # What was said before the reader's list last told of the hand is about an earlier one.
        stale = (pl.col("said_at") < pl.col("told_at")).fill_null(value=False)
        hands = hands.with_columns(pl.when(~stale).then(pl.col(name)).alias(name) for name in ("said_at", "said_by"))
        named = {name: hands[name] for name in retention.HELD_HANDS.names}
        return retention.HELD_HANDS.frame(named).sort("person", "reader", "number")

    @cached_property
    def zones(self) -> dict[str, str]:
        """Return the zone of each reader's clock."""
        return dict(self.of.readers.select("reader", "zone").iter_rows())

    @cached_property
    def purposes(self) -> Frame:
        """Return whose hand is held for nothing any more (PURPOSES)."""
        of = self.of
        gone = of.gone_people.select("person", "taken_at").join(self.entries, on="person", how="left")
        taken = pl.from_epoch("taken_at").dt.date()
        endings = gone.select(
            "person",
            day=pl.coalesce("last_interaction", taken),
            why=pl.lit(sentence("no longer on the roster, which gives no last day; the last presentation is taken")),
        )
        return retention.purposes_ended(of.people, endings, self._withdrawn, self.on)

    @cached_property
    def _withdrawn(self) -> Frame:
        """Return who does not agree any more (ENDINGS), of those whose hand a reader holds or held."""
        states = consent_states(self.of, self.on).filter(pl.col("kind").is_in(list(NO_MORE)))
        held = states.join(self.hands, on="person", how="semi")
        why = pl.col("kind").replace_strict(NO_MORE, return_dtype=pl.String)
        return held.select("person", day="said_on", why=why).drop_nulls()

    @cached_property
    def entries(self) -> Frame:
        """Return person, `last_entry` of time records and `last_interaction` with any reader."""
        of, zone = self.of, self.of.zone
        seen = of.last_seen_of
        seen = seen.with_columns(day=_day("last_at", seen, self.zones))
        last = seen.group_by("person").agg(last_interaction=pl.col("day").max())
        made = of.corrections.select("person", "made_at", zone=pl.lit(zone))
        made = made.with_columns(day=civil_days(made["made_at"], made["zone"]))
        entered = [
            last.select("person", day="last_interaction"),
            made.select("person", "day"),
            of.earnings.select("person", day="earned_to"),
            of.people.select("person", day="left_on").drop_nulls(),
        ]
        latest = pl.concat(entered).group_by("person").agg(last_entry=pl.col("day").max())
        return of.people.select("person").join(latest, on="person", how="left").join(last, on="person", how="left")

    @cached_property
    def places(self) -> Frame:
        """Return whose laws bind each person (PLACES): those of the home site, and of every reader used or held at."""
        of = self.of
        home = of.people.select("person", "site")
        used = of.last_seen_of.select("person", "reader")
        at = pl.concat([used, self.hands.select("person", "reader")]).unique()
        sites = pl.concat([home, at.join(of.readers.select("reader", "site"), on="reader").select("person", "site")])
        named = {site: place_of_site(of, site) for site in sites["site"].unique()}
        place = pl.col("site").replace_strict(named, return_dtype=pl.String)
        return sites.select("person", place=place).unique().sort("person", "place")

    @cached_property
    def events(self) -> Frame:
        """Return what starts everybody's clocks (EVENTS)."""
        return retention.events_of(self.hands, self.purposes, self.entries, self.places)

    @cached_property
    def removals(self) -> Frame:
        """Return every hand with a day by which it must be gone (REMOVALS), the earliest first."""
        return retention.removals(self.hands, self.events)

    @cached_property
    def due(self) -> Frame:
        """Return what each law says of each person (DUE_DATES)."""
        return retention.due_dates(self.events, own=own_laws(self.of.settings))

    @cached_property
    def kept(self) -> Frame:
        """Return through which day each person's records must stay (BINDING without a reader): the latest of all."""
        keep = self.due.filter(pl.col("clock") == "keep").with_columns(reader=pl.lit(None, pl.String))
        return retention.binding_dates(keep)

    @cached_property
    def held(self) -> dict[str, str]:
        """Return whose records are under legal holds, with their matters."""
        by = standing_holds(self.of.holds).group_by("person", maintain_order=True)
        return dict(by.agg(pl.col("reason").str.join("; ")).iter_rows())


def _listed(of: Snapshot) -> Frame:
    history = of.enrolment_history.with_columns(is_supervisor=pl.lit(None, pl.Boolean))
    # A list that names nobody shows the hand of its own time, until whoever has the number since is accepted there:
    # then it is theirs, and no list has shown yet that the hand before is gone.
    theirs = of.presented_by.filter("is_last", pl.col("outcome") != "refused").select("reader", "number").unique()
    of_its_time = pl.when(BARE).then(pl.from_epoch("told_at").dt.date()).otherwise("enrolled_on").alias("enrolled_on")
    accepted = history.filter(BARE).join(theirs, on=["reader", "number"], how="semi")
    others = history.join(accepted, on=["reader", "number"], how="anti").with_columns(of_its_time)
    known = _with_whose(of, pl.concat([others, accepted]))
    keys = ["reader", "number", "person"]
    before = pl.concat([_with_whose(of, accepted.with_columns(of_its_time)), _replaced(of)], how="diagonal")
    earlier = before.join(known, on=keys, how="anti").with_columns(is_told=pl.col("gone").is_not_null())
    # what a list has shown since stands before what none has
    earlier = earlier.sort("is_told", maintain_order=True).unique(keys, keep="last", maintain_order=True)
    first = pl.from_epoch("told_at").dt.date()
    hands = [
        known.with_columns(pl.coalesce("enrolled_on", first), is_listed=pl.col("gone").is_null()),
        earlier.with_columns(is_listed=pl.lit(value=False), is_taken_over=~pl.col("is_told")),
    ]
    told = ("reader", "number", "person", "enrolled_on", "told_at", "is_listed", "gone_file", "gone_at")
    every = pl.concat(hands, how="diagonal")
    return every.select(*told, pl.col("is_taken_over").fill_null(value=False), gone_take="gone")


BARE = pl.col("enrolled_on").is_null() & pl.col("name").is_null()
"""Where a list tells neither whose a hand is nor since when it is there."""


def _with_whose(of: Snapshot, hands: Frame) -> Frame:
    """Add to hands that lists tell or told of whose they are, by `person`; those of nobody are left out."""
    # who held several numbers, or came back, is on that roster with each, and each row stands for itself
    rows = of.holding.with_row_index("row").with_columns(pl.col("row").cast(pl.String))
    roster = reconcile.roster_on(rows.rename({"person": "whose", "row": "person"}), date.max)
    stood = reconcile.standings(roster, of.readers, hands).select(pl.col("person").alias("row"))
    return hands.hstack(stood).join(rows.select("row", "person"), on="row", maintain_order="left").drop("row")


def _replaced(of: Snapshot) -> Frame:
    """Return the hands of which lists have said something else since, with whose they were.

    One of which nothing was told is taken to have been there since the first list of any reader.
    """
    lists = of.takes.filter(pl.col("table") == "enrolments").select(pl.from_epoch("taken_at").dt.date().min())
    since = pl.lit(lists.item(), pl.Date)
    dated = pl.when(BARE).then(since).otherwise("enrolled_on").alias("enrolled_on")
    return _with_whose(of, of.hands_replaced.with_columns(dated, is_supervisor=pl.lit(None, pl.Boolean)))


def _told_by_rounds(of: Snapshot, on: date) -> Frame:
    """Return reader, number, the last round that took it off or has it still to do, and who said when it was done.

    What was put aside, and what a round of a day gone by left undone, is on no round.
    """
    items = of.round_items.filter(pl.col("action") == "remove")
    states = round_states(items, of.outcomes).join(of.rounds.select("round", "day"), on="round")
    done = pl.col("result") == "removed"
    stands = states.filter(done | (still_to_do() & (pl.col("day") >= on))).sort("day", "round", "position")
    last = stands.unique(["reader", "number"], keep="last", maintain_order=True)
    return last.select(
        "reader",
        "number",
        "round",
        said_at=pl.when(done).then(pl.col("at")),
        said_by=pl.when(done).then(pl.col("author")),
    )


def _day(name: str, frame: Frame, zones: dict[str, str]) -> pl.Series:
    """Return the civil days of a column of instants, on the clock of each row's reader; null where there is none."""
    if name not in frame.columns:
        return pl.Series([None] * frame.height, dtype=pl.Date)
    zone = frame["reader"].replace_strict(zones, default="UTC", return_dtype=pl.String)
    days = civil_days(frame[name].fill_null(0), zone)
    return days.set(frame[name].is_null(), None)
