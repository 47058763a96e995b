"""By what somebody is known in a workspace: identifiers, names, numbers; and which presentations are theirs."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

import polars as pl

from evenhand import reconcile
from evenhand.reconcile import NumbersHeld
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.erasing import Traces
from evenhand.store.own_numbers import OwnNumbers
from evenhand.store.part_names import PartNames, sharing
from evenhand.terms.civil_days import civil_days
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Policy, Settings
from evenhand.terms.workplace import workplace_zone

__all__ = ["Whom", "known_of", "name_forms"]

MINUTE_S = 60
SHORTEST = 3
"""Of fewer letters the beginning of a name says nothing of whose it is."""


@dataclass(frozen=True)
class Holding:
    """Who held which number from when to when (`reconcile.numbers_held`), by the clocks of the `readers`.

    `zone` is that of a reader that is not listed, where whose a number was is asked all the same.
    """

    held: NumbersHeld
    readers: Frame
    zone: str
    policy: Policy

    def of(self, recorded: Frame) -> pl.Series:
        """Return the one person who held each row's number, as `reconcile.holders` has it."""
        unlisted = recorded.select("reader").unique().join(self.readers, on="reader", how="anti")
        zoned = unlisted.with_columns(zone=pl.lit(self.zone))
        readers = pl.concat([self.readers, zoned], how="diagonal")
        return reconcile.holders(recorded, self.held.people, readers, self.policy).cast(pl.String)


@dataclass(frozen=True)
class Whom:
    """What is known of a person: the `traces`, and the stored `presentations` (reader, number, minute).

    `given` are those under their own numbers that somebody gave to others by hand, whose records they are. `cut_names`
    are those by which readers list them under numbers that others held too, cut short and in small letters. `holding`
    tells whose a number was when, and `doubtful` what counts as theirs and may be a later holder's: number, person,
    later, first_on, last_on, count. `parts` are those of their name, by which others may have written of them.
    """

    traces: Traces
    presentations: Frame
    given: Frame
    cut_names: tuple[str, ...]
    holding: Holding
    doubtful: Frame
    parts: PartNames

    def was_theirs(self, recorded: Frame) -> pl.Series:
        """Return for each row (punch, reader, number, at, direction, outcome) whether its number was theirs then."""
        return self.holding.of(recorded).is_in(list(self.traces.ids)).fill_null(value=False)


def known_of(conn: Connection, person: str, settings: Settings) -> Whom:
    """Return by what a person of the roster is known, looked for in everything that is stored."""
    people, told = frames.people(conn), frames.roster_told(conn)
    ids = {person} | {one for one, known in frames.known_as(conn).items() if known == person}
    row = people.filter(pl.col("person") == person).row(0, named=True)
    every = pl.concat([frame.select("person", "number") for frame in (people, told)]).drop_nulls("number").unique()
    is_mine = pl.col("person").is_in(list(ids))
    mine = set(every.filter(is_mine)["number"])
    theirs = {*every.filter(~is_mine)["number"], *people.filter(~is_mine)["person"]}
    enrolled = frames.enrolments_ever(conn)
    borne = {form.casefold() for form in name_forms(row["name"])}
    named = enrolled.filter(pl.col("name").str.to_lowercase().is_in(list(borne)))["number"].to_list()
    mine |= set(named) - theirs
    numbers, shared = frozenset(mine - theirs), frozenset(mine & theirs)
    borne_by_others = [
        form for name in people.filter(~pl.col("person").is_in(list(ids)))["name"] for form in name_forms(name)
    ]
    others = {form.casefold() for form in borne_by_others}
    short = {name.casefold() for name in enrolled.filter(pl.col("number").is_in(list(shared)))["name"].drop_nulls()}
    cut = tuple(
        sorted(one for one in short if len(one) >= SHORTEST and _begins(one, borne) and not _begins(one, others))
    )
    forms = [form for form in name_forms(row["name"]) if _is_full(form)]
    names = tuple(one for form in forms if form.casefold() not in others for one in _spellings(form))
    spared = tuple(one for form in forms if form.casefold() in others for one in _spellings(form))
    mine_of = re.compile(r"(?i)\b(?:" + "|".join(map(re.escape, names)) + r")\b") if names else None
    longer = tuple(sorted({form for form in borne_by_others if mine_of and mine_of.search(form)}))
    traces = Traces(frozenset(ids), names, numbers, shared, longer, spared, frozenset(ids & theirs))
    holding = _holding_of(conn, people, told, settings)
    presentations, given, doubtful = _presentations(conn, holding, traces)
    parts = sharing(row["name"], borne_by_others, OwnNumbers(frozenset(ids), numbers | shared, frozenset(theirs)))
    return Whom(traces, presentations, given, cut, holding, doubtful, parts)


def _holding_of(conn: Connection, people: Frame, told: Frame, settings: Settings) -> Holding:
    readers = frames.readers(conn)
    zone = workplace_zone(settings, readers)
    days = reconcile.days_taken(frames.rosters_taken(conn), zone)
    held = reconcile.numbers_held(people, told, frames.gone_people(conn), days)
    return Holding(held, readers, zone, settings.policy)


def name_forms(name: str) -> list[str]:
    """Return how a name may be written: as it is, family name last, family name first, with a comma."""
    parts = re.split(r"[\s,]+", name.strip())
    if len(parts) < 2:
        return [name.strip()]
    turned = [" ".join([parts[-1], *parts[:-1]]), " ".join([*parts[1:], parts[0]])]
    return list(dict.fromkeys([name.strip(), " ".join(parts), *turned, f"{parts[-1]}, {' '.join(parts[:-1])}"]))


def _begins(cut: str, forms: set[str]) -> bool:
    """Whether a name as a reader holds it, cut short, is the beginning of one of `forms`."""
    return any(form.startswith(cut) for form in forms)


def _spellings(form: str) -> list[str]:
    """Return a name with its accents in one character with their letters, and behind them, as files may have it."""
    return list(dict.fromkeys([form, *(unicodedata.normalize(way, form) for way in ("NFC", "NFD"))]))


def _is_full(form: str) -> bool:
    return " " in form.strip()


def _presentations(conn: Connection, holding: Holding, traces: Traces) -> tuple[Frame, Frame, Frame]:
    """Return what is the person's, what of it was given to others by hand, and what of it may be a later holder's."""
    corrections, every = frames.corrections(conn), list(traces.numbers | traces.shared)
    mentioned = pl.col("number").is_in(every) | pl.col("punch").is_in(corrections["punch"].implode())
    recorded = frames.recorded(conn).filter(mentioned)
    found = reconcile.attribute(recorded, holding.held.people, holding.readers, corrections, policy=holding.policy)
    is_mine = pl.col("person").cast(pl.String).is_in(list(traces.ids))
    mine, others = found.attributed.filter(is_mine)["punch"], found.attributed.filter(~is_mine)["punch"]
    of_numbers = recorded.filter(pl.col("number").is_in(every))
    held = of_numbers.filter(holding.of(of_numbers).is_in(list(traces.ids)).fill_null(value=False))
    sole = recorded.filter(pl.col("number").is_in(list(traces.numbers)))["punch"]
    theirs = pl.col("punch").is_in(pl.concat([mine, held["punch"], sole]).unique().implode())
    is_given = pl.col("punch").is_in(others.implode())
    minutes = recorded.filter(theirs).select(
        "reader", "number", is_given.alias("given"), minute=pl.col("at") // MINUTE_S
    )
    kept, given = minutes.filter(~pl.col("given")), minutes.filter("given")
    doubtful = _doubtful(held.filter(~is_given), holding, traces)
    return kept.drop("given").unique(), given.drop("given").unique(), doubtful


def _doubtful(held: Frame, holding: Holding, traces: Traces) -> Frame:
    """Return what the person keyed on days of which no roster says whose the number was, by number and later holder."""
    zones = dict(holding.readers.select("reader", "zone").iter_rows())
    clocks = held["reader"].replace_strict(zones, default=holding.zone, return_dtype=pl.String)
    came = held.select("number", day=civil_days(held["at"], clocks))
    doubts = holding.held.in_doubt.filter(pl.col("person").is_in(list(traces.ids)))
    met = came.join(doubts, on="number").filter(
        pl.col("day") <= pl.col("last_on"), (pl.col("day") >= pl.col("first_on")).fill_null(value=True)
    )
    by = ["number", "person", "later"]
    days = pl.col("day").min().alias("first_on"), pl.col("day").max().alias("last_on")
    return met.group_by(by).agg(*days, pl.len().alias("count")).sort(by)
