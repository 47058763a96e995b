"""By what somebody is known in a workspace: identifiers, names, numbers; and which presentations are theirs."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

import polars as pl

from evenhand import reconcile
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.erasing import Traces
from evenhand.store.own_numbers import OwnNumbers
from evenhand.store.part_names import PartNames, sharing
from evenhand.terms.columns import Frame
from evenhand.terms.settings import Settings
from evenhand.terms.zones import DAY_S, utc_start

__all__ = ["Whom", "known_of", "name_forms"]

MINUTE_S = 60
SHORTEST = 3
"""Of fewer letters the beginning of a name says nothing of whose it is."""


@dataclass(frozen=True)
class Whom:
    """What is known of a person: the `traces`, and the stored `presentations` (reader, number, minute).

    `given` are those under their own numbers that somebody gave to others by hand, whose records they are. `cut_names`
    are those by which readers list them under numbers that others held too, cut short and in small letters. `employed`
    is from when to when numbers that others held too were theirs [s since 1970-01-01T00:00:00Z]. `parts` are those of
    their name, by which others may have written of them.
    """

    traces: Traces
    presentations: Frame
    given: Frame
    cut_names: tuple[str, ...]
    employed: tuple[int, int]
    parts: PartNames


def known_of(conn: Connection, person: str, settings: Settings) -> Whom:
    """Return by what a person of the roster is known, looked for in everything that is stored."""
    people, changes = frames.people(conn), frames.changes(conn)
    ids = {person} | {one for one, known in frames.known_as(conn).items() if known == person}
    row = people.filter(pl.col("person") == person).row(0, named=True)
    held = _numbers_held(people, changes)
    mine = {number for who, number in held if who in ids}
    theirs = {number for who, number in held if who not in ids} | (set(people["person"].to_list()) - ids)
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
    spans = _spans(people, changes)
    spared = tuple(one for form in forms if form.casefold() in others for one in _spellings(form))
    mine_of = re.compile(r"(?i)\b(?:" + "|".join(map(re.escape, names)) + r")\b") if names else None
    longer = tuple(sorted({form for form in borne_by_others if mine_of and mine_of.search(form)}))
    presentations, given = _presentations(conn, people, settings, ids, numbers, shared, held, spans)
    employed = spans[person]
    parts = sharing(row["name"], borne_by_others, OwnNumbers(frozenset(ids), numbers | shared, frozenset(theirs)))
    traces = Traces(frozenset(ids), names, numbers, shared, longer, spared, frozenset(ids & theirs))
    return Whom(traces, presentations, given, cut, employed, parts)


def _spans(people: Frame, changes: Frame) -> dict[str, tuple[int, int]]:
    """Return from when to when everybody was employed, as any roster said it [s since 1970-01-01T00:00:00Z].

    It reaches from the first day of all to the last, and a day more: who came back was employed before too.
    """
    found: dict[str, tuple[int, int]] = {}

    def widen(person: str, hired_on: date | None, left_on: date | None) -> None:
        first = utc_start(hired_on or date(1970, 1, 2))
        last = utc_start(left_on or date(2100, 1, 1)) + 2 * DAY_S
        known = found.get(person, (first, last))
        found[person] = min(first, known[0]), max(last, known[1])

    for person, hired_on, left_on in people.select("person", "hired_on", "left_on").iter_rows():
        widen(person, hired_on, left_on)
    days = {row[0]: row[1:] for row in people.select("person", "hired_on", "left_on").iter_rows()}
    of_people = changes.filter(pl.col("table") == "people").sort("change", descending=True)
    for row_key, was in of_people.select("row_key", "was").iter_rows():
        person, before = json.loads(row_key)["person"], json.loads(was)
        if person in days and not before.keys().isdisjoint({"hired_on", "left_on"}):
            hired_on, left_on = (
                _day(before[name]) if name in before else day
                for name, day in zip(("hired_on", "left_on"), days[person], strict=True)
            )
            later, days[person] = days[person], (hired_on, left_on)
            # a last day that was told later ended what a roster left open before: nobody worked on beyond it
            widen(person, hired_on, left_on or later[1])
    return found


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


def _held_alone(spans: Mapping[str, tuple[int, int]], held: Iterable[tuple[str, str]], ids: frozenset[str]) -> pl.Expr:
    """Return which presentations came under a number while the person alone, of all who ever held it, was employed.

    A roster that takes a leaver's number away leaves what they keyed before with nobody; it stays theirs.
    """

    def keyed(*, is_mine: bool) -> pl.Expr:
        found = pl.lit(value=False)
        for who, number in sorted(held):
            if (who in ids) is is_mine and who in spans:
                found |= (pl.col("number") == number) & pl.col("at").is_between(*spans[who])
        return found

    return keyed(is_mine=True) & ~keyed(is_mine=False)


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


def _numbers_held(people: Frame, changes: Frame) -> set[tuple[str, str]]:
    """Return person and number of everybody, now and before any file changed it."""
    held: set[tuple[str, str]] = set(people.select("person", "number").drop_nulls().iter_rows())
    of_people = changes.filter(pl.col("table") == "people").select("row_key", "was")
    for row_key, was in of_people.iter_rows():
        if number := json.loads(was).get("number"):
            held.add((json.loads(row_key)["person"], number))
    return held


def _presentations(
    conn: Connection,
    people: Frame,
    settings: Settings,
    ids: Iterable[str],
    numbers: frozenset[str],
    shared: frozenset[str],
    held_by: set[tuple[str, str]],
    spans: Mapping[str, tuple[int, int]],
) -> tuple[Frame, Frame]:
    readers, corrections = frames.readers(conn), frames.corrections(conn)
    mentioned = pl.col("number").is_in(list(numbers | shared)) | pl.col("punch").is_in(corrections["punch"].implode())
    recorded = frames.recorded(conn).filter(mentioned)
    found = reconcile.attribute(recorded, people, readers, corrections, policy=settings.policy)
    whose = found.attributed.select("punch", "person")
    is_mine = pl.col("person").cast(pl.String).is_in(list(ids))
    mine, others = whose.filter(is_mine)["punch"], whose.filter(~is_mine)["punch"]
    of_numbers = recorded.filter(pl.col("number").is_in(list(numbers | shared)))
    holder = reconcile.holders(of_numbers, people, readers, settings.policy).cast(pl.String)
    held = of_numbers.filter(holder.is_in(list(ids)).fill_null(value=False))["punch"]
    at_stake = [one for one in held_by if one[1] in numbers | shared]
    past = of_numbers.filter(holder.is_null() & _held_alone(spans, at_stake, frozenset(ids)))["punch"]
    past = past.filter(~past.is_in(others.implode()))
    sole = recorded.filter(pl.col("number").is_in(list(numbers)))["punch"]
    theirs = pl.col("punch").is_in(pl.concat([mine, held, past, sole]).unique().implode())
    is_given = pl.col("punch").is_in(others.implode())
    minutes = recorded.filter(theirs).select(
        "reader", "number", is_given.alias("given"), minute=pl.col("at") // MINUTE_S
    )
    kept, given = minutes.filter(~pl.col("given")), minutes.filter("given")
    return kept.drop("given").unique(), given.drop("given").unique()
