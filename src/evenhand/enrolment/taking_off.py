"""Which numbers must not be taken off a reader yet: nobody loses the only number that works for them.

A number goes once everybody whose hand may be under it has been seen at that reader under their own number: by a punch
accepted there since they were last enrolled, or by a list that names them, taken after a round enrolled them, where the
other number has not been used since. A line that a list had before, or one without a name, tells of a hand and not
whose it is. The same holds before a hand is enrolled again where another's may be. Where people's hands stand under
each other's numbers no order of turns ends that: they are enrolled in one visit, all of them there.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

import polars as pl

from evenhand.enrolment.places import held_after, without_place
from evenhand.enrolment.rounds import FINAL, done_in_order, waiting
from evenhand.enrolment.waiting_on import displaced, missed_by, told_or_together
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.names import bearers
from evenhand.terms.rounds import OFF_ROUND

__all__ = [
    "AtReaders",
    "HeldBack",
    "TurnsHeld",
    "at_readers",
    "enrolments_awaited",
    "numbers_before",
    "taken_too_soon",
    "turns_held",
]

Row = Mapping[str, Any]
Key = tuple[str, str]
TOLD_BY_NAME = ("wrong", "zeros", "other_hand")
DAY_S = 86_400


@dataclass(frozen=True)
class HeldBack:
    """Why a number stays on the reader for now, and for whose sake.

    `why`: `unseen` (not seen under their own `number` there), `no_number` (the roster gives them none of their own),
    `own` (it is their own), `in_use` (hands are accepted under it, and whose is not known), `last_supervisor` (nobody
    else who stays may enrol others there), `full` (no place is left for one more hand), `undecided` (nor is one, and
    the person has not agreed yet, which comes first).
    """

    why: Literal["unseen", "no_number", "own", "in_use", "last_supervisor", "full", "undecided"]
    name: str = ""
    number: str = ""
    person: str = field(default="", compare=False)


@dataclass(frozen=True)
class TurnsHeld:
    """By item still to be done: why it must wait (`held`), and the items done in one visit with it (`together`).

    `begun` are those of a visit whose hand may have come off for another's turn; `takes` has by item the items of the
    visit for whom it would come off.
    """

    held: Mapping[str, HeldBack]
    together: Mapping[str, tuple[str, ...]]
    begun: frozenset[str]
    takes: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True)
class AtReaders:
    """What punches and readers' lists tell, by reader and number.

    `users` are whose hand may be there, '' for somebody unknown; `standings` and `listed` the rows of the list;
    `accepted` the last punch of a person (reader, number, person); `told` when a reader's list was taken last; `here`
    the rows of the roster; `borne` by whom a name on a list may be borne; `capacity` how many hands a reader holds,
    where that is known.
    """

    users: Mapping[Key, frozenset[str]]
    standings: Mapping[Key, Row]
    listed: Mapping[Key, Row]
    accepted: Mapping[tuple[str, str, str], int]
    told: Mapping[str, int]
    here: Mapping[str, Row]
    borne: Mapping[str, frozenset[str]]
    capacity: Mapping[str, int] = field(default_factory=dict)


def at_readers(
    punches: Frame, standings: Frame, listed: Frame, roster: Frame, capacity: Mapping[str, int] | None = None
) -> AtReaders:
    """Return what is told by the punches accepted lately, the readers' lists and the roster.

    `punches` have reader, number, at and person, null where nobody knows whose each is. `standings` are those of the
    lists (`reconcile.standings`), `listed` their rows: reader, number, `told_at`, and `enrolled_at`, the start of the
    day on which the hand was enrolled, where the list tells it [s since 1970-01-01T00:00:00Z]. `roster` is
    everybody, also who left: person, name, number, null where it is not theirs alone, and `gives_hand`, true for
    whoever is employed and does not clock another way.
    """
    keyed = punches.with_columns(pl.col("person").fill_null(""))
    last = keyed.group_by("reader", "number", "person").agg(pl.col("at").max())
    users: dict[Key, set[str]] = {}
    for reader, number, person in last.select("reader", "number", "person").iter_rows():
        users.setdefault((reader, number), set()).add(person)
    bearing = bearers(standings["name"], roster).group_by("written").agg("person")
    borne = {name: frozenset(people) for name, people in bearing.iter_rows()}
    here = {row["person"]: row for row in roster.filter("gives_hand").iter_rows(named=True)}
    standing = {(row["reader"], row["number"]): row for row in standings.iter_rows(named=True)}
    for key, row in standing.items():
        theirs = users.setdefault(key, set())
        if row["person"]:
            theirs.add(row["person"])
        theirs |= _also_named(row, borne.get(row["name"] or "", frozenset()), here)
        # A name beside the number tells whose the hand is; digits alone are a guess, and a guess costs somebody.
        if row["name"] and row["state"] in TOLD_BY_NAME:
            theirs.discard("")
    return AtReaders(
        users={key: frozenset(theirs) for key, theirs in users.items()},
        standings=standing,
        listed={(row["reader"], row["number"]): row for row in listed.iter_rows(named=True)},
        accepted={(reader, number, person): at for reader, number, person, at in last.iter_rows()},
        told=dict(listed.group_by("reader").agg(pl.col("told_at").max()).iter_rows()),
        here=here,
        borne=borne,
        capacity=capacity or {},
    )


def _also_named(standing: Row, borne: frozenset[str], here: Mapping[str, Row]) -> frozenset[str]:
    """Return who of those that may bear the name beside a number has the hand there, as the name alone tells."""
    if standing["person"] in borne:  # a namesake with a number of their own is not meant
        return frozenset(person for person in borne & here.keys() if not here[person]["number"])
    return borne & here.keys()


def turns_held(items: Frame, states: Frame, of: AtReaders) -> TurnsHeld:
    """Return which of the items (STATES) still to be done must wait, and why; `states` are those of every round.

    An item takes a number off where it says remove, and where it enrols a hand under a number already listed. Whatever
    waits is told a reason that something else ends; items that wait on each other alone do not wait, but are done
    together, unless one of them was taken off its round, or is not there (`missed_by`). What would find no place on a
    full reader waits until one is free.
    """
    rows = items.filter(~pl.col("result").is_in(["removed"]).fill_null(value=False)).to_dicts()
    touched, enrolled = _last_touched(states), _enrolled(states)
    enrols = {  # a turn that is off the round ends nothing, so that no ring is made with it
        (row["reader"], row["person"]): row["item"]
        for row in rows
        if row["action"] != "remove" and row["reason"] != OFF_ROUND
    }
    reasons = {
        row["item"]: [
            (why, enrols.get((row["reader"], why.person)) if why.why == "unseen" else None)
            for why in _whys(row, of, touched, enrolled)
        ]
        for row in rows
        if row["action"] == "remove" or (row["reader"], row["number"]) in of.listed
    }
    told, rings = told_or_together(reasons)
    by_item = {row["item"]: row for row in rows}
    left = {row["item"] for row in rows if row["result"] not in FINAL}
    takes = {item: tuple(ends for _, ends in reasons[item] if ends) for ring in rings for item in ring}
    known = left | {row["item"] for row in rows if row["result"] == "not_done"}  # what is put aside may be put back
    together = {item: tuple(sorted(ring)) for ring in rings for item in ring & known}
    held, begun = {item: why for item, why in told.items() if item in left}, set[str]()
    for ring in rings:
        visit = [by_item[item] for item in sorted(ring)]
        begun |= displaced(visit, takes) & left
        held |= {item: _unseen(row) for item, row in missed_by(visit, takes) if item in left}
    for reader, capacity in of.capacity.items():
        there = held_after(numbers_before(reader, items, states, of), done_in_order(items, reader))
        held |= dict.fromkeys(without_place(_in_order(items, reader, held, begun), there, capacity), HeldBack("full"))
    return TurnsHeld(held, together, frozenset(begun), takes)


def _unseen(row: Row) -> HeldBack:
    return HeldBack("unseen", row["name"] or row["person"], row["number"], row["person"])


def _in_order(
    items: Frame, reader: str, held: Collection[str], first: Collection[str]
) -> Callable[[Collection[str]], Iterator[Row]]:
    return lambda full: waiting(items, reader, {*held, *full}, first=first).iter_rows(named=True)


def numbers_before(reader: str, items: Frame, states: Frame, of: AtReaders) -> set[str]:
    """Return the numbers on a reader by its list and by what other rounds than that of these items did since."""
    listed = (number for at, number in of.listed if at == reader)
    others = states.filter(pl.col("at") > of.told.get(reader, 0)).join(items, on="item", how="anti")
    return held_after(listed, done_in_order(others, reader))


def taken_too_soon(items: Frame, states: Frame, of: AtReaders) -> frozenset[str]:
    """Return the items (STATES) that took a number off whose owner is not seen under their own: none may work now.

    So it is with a number that hands were accepted under, where neither the roster nor a list told whose they are.
    """
    touched, enrolled = _last_touched(states), _enrolled(states)
    return frozenset(
        row["item"]
        for row in items.filter(pl.col("result") == "removed").iter_rows(named=True)
        if any(
            why.why in ("unseen", "own") or (why.why == "in_use" and _is_nobodys(row, of))
            for why in _whys(row, of, touched, enrolled)
        )
    )


def _is_nobodys(item: Row, of: AtReaders) -> bool:
    """Whether nothing tells whose a number is; a name told it perhaps that went with its line of the list."""
    return not item["person"] or (item["reader"], item["number"]) in of.standings


def _enrolled(states: Frame) -> list[dict[str, Any]]:
    return states.filter(pl.col("result") == "enrolled").to_dicts()


def enrolments_awaited(
    items: Frame, of: AtReaders, together: Mapping[str, tuple[str, ...]] | None = None
) -> dict[str, list[str]]:
    """Return for each item that takes a number off the items (ROUND_ITEMS) that enrol whoever may be under it.

    Awaited too is what enrols anybody under the very number, whose hand it would take off. Those that are done in one
    visit with it, `together`, it does not await.
    """
    ring = together or {}
    enrolling: dict[tuple[str, str | None], list[str]] = {}
    under: dict[Key, list[str]] = {}
    for row in items.filter(pl.col("action") != "remove").iter_rows(named=True):
        enrolling.setdefault((row["reader"], row["person"]), []).append(row["item"])
        under.setdefault((row["reader"], row["number"]), []).append(row["item"])
    return {
        row["item"]: sorted(
            {
                item
                for person in _people(row, of)
                for item in enrolling.get((row["reader"], person), ())
                if item != row["item"] and item not in ring.get(row["item"], ())
            }
            | ({*under.get((row["reader"], row["number"]), ())} if row["action"] == "remove" else set())
        )
        for row in items.iter_rows(named=True)
        if row["action"] == "remove" or (row["reader"], row["number"]) in of.listed
    }


def _people(item: Row, of: AtReaders, touched: Mapping[Key, Row] | None = None) -> list[str]:
    """Return whose hand may be under an item's number, its own person only where the number is to go; '' is unknown.

    Whom a round enrolled under it since (`touched`) no list may tell of yet.
    """
    key = (item["reader"], item["number"])
    theirs = set(of.users.get(key, ()))
    if item["action"] == "remove":
        made = (touched or {}).get(key, {})
        theirs |= {person for person in (item["person"], made.get("person")) if person}
    else:
        theirs -= {item["person"], ""}
    return sorted(theirs)


def _whys(item: Row, of: AtReaders, touched: Mapping[Key, Row], enrolled: list[Any]) -> Iterator[HeldBack]:
    for person in _people(item, of, touched):
        if not person:
            yield HeldBack("in_use")
        elif person in of.here:  # whoever left, or clocks another way, needs no number here
            who = of.here[person]
            name, number = who["name"] or person, who["number"]
            if not number:
                yield HeldBack("no_number", name, person=person)
            elif number == item["number"]:
                yield HeldBack("own", name, number, person)
            elif not _is_seen(item["reader"], person, number, of, touched, item["number"]):
                yield HeldBack("unseen", name, number, person)
    if _may_enrol(item["reader"], item["number"], of) and not _another(item, of, touched, enrolled):
        yield HeldBack("last_supervisor")


def _is_seen(reader: str, person: str, number: str, of: AtReaders, touched: Mapping[Key, Row], other: str) -> bool:
    """Whether the person has been seen at the reader under their own number since they were last enrolled there."""
    key, then = (reader, number), touched.get((reader, number))
    standing, entry = of.standings.get(key), of.listed.get(key)
    if standing is not None and not _is_theirs(standing, person, of):
        return False
    last = of.accepted.get((reader, number, person))
    since = max(then["tried_at"] if then else 0, (entry["enrolled_at"] or 0) if entry else 0)
    if last is not None and last >= since and (entry or last > of.told.get(reader, 0)):
        return True
    if entry is None or standing is None or then is None or person not in of.borne.get(standing["name"] or "", ()):
        return False
    # A list taken later may have been made earlier: it counts where it tells of an enrolment that it could not before.
    is_later = entry["told_at"] >= then["tried_at"]
    tells_day = entry["enrolled_at"] is not None and entry["enrolled_at"] + DAY_S > then["tried_at"]
    is_told = then["tried"] == "enrolled" and is_later and (tells_day or then["action"] == "enrol")
    return bool(is_told and _last_used(reader, other, of) < then["tried_at"])


def _last_used(reader: str, number: str, of: AtReaders) -> int:
    at = (of.accepted.get((reader, number, person), 0) for person in of.users.get((reader, number), ()))
    return max(at, default=0)


def _is_theirs(standing: Row, person: str, of: AtReaders) -> bool:
    """Whether the list speaks for the person: it does not where the name beside the number is another's.

    So it is with the name of whoever had the number and left. Then neither does a punch, which may be by that other
    hand, until a later list says otherwise.
    """
    borne = of.borne.get(standing["name"] or "", frozenset())
    is_right = standing["state"] == "right" and standing["person"] == person
    return bool(is_right and (not borne or person in borne))


def _is_named(reader: str, person: str, number: str, of: AtReaders, touched: Mapping[Key, Row]) -> bool:
    """Whether the list names the person beside their own number, where no round has been at it."""
    standing = of.standings.get((reader, number))
    is_by_name = standing is not None and person in of.borne.get(standing["name"] or "", ())
    return bool(standing and is_by_name and _is_theirs(standing, person, of) and (reader, number) not in touched)


def _last_touched(states: Frame) -> dict[Key, Row]:
    """Return by reader and number the enrolling item (STATES) that was last tried at the reader."""
    rows = states.filter(pl.col("tried_at").is_not_null(), pl.col("action") != "remove").sort("tried_at", "item")
    return {(row["reader"], row["number"]): row for row in rows.iter_rows(named=True)}


def _may_enrol(reader: str, number: str, of: AtReaders) -> bool:
    standing = of.standings.get((reader, number))
    return bool(standing and standing["has_authority"])


def _another(item: Row, of: AtReaders, touched: Mapping[Key, Row], enrolled: list[Any]) -> bool:
    """Whether somebody else who stays may enrol others at the reader, and is seen there."""
    reader = item["reader"]
    listed = [key[1] for key in of.standings if key[0] == reader and _may_enrol(reader, key[1], of)]
    made = [row["number"] for row in enrolled if row["reader"] == reader and row["action"] == "enrol_supervisor"]
    owners = {row["number"]: person for person, row in of.here.items() if row["number"]}
    return any(
        number in owners
        and (
            _is_named(reader, owners[number], number, of, touched)
            or _is_seen(reader, owners[number], number, of, touched, item["number"])
        )
        for number in {*listed, *made} - {item["number"]}
    )
