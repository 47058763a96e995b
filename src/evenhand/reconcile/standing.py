"""Whose hand each enrolment is, as far as number and name can tell."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

import polars as pl

from evenhand.reconcile.roster import Roster
from evenhand.terms.columns import Frame
from evenhand.terms.likeness.explain import KINDS, explain
from evenhand.terms.likeness.names import bearers, words_of
from evenhand.terms.likeness.slips import lost_zeros

__all__ = ["Standing", "standings"]

State = Literal["right", "shared", "leaver", "other_hand", "wrong", "zeros", "unknown"]


@dataclass(frozen=True)
class Standing:
    """One enrolment and whose it is.

    `state`: right (the one holder's), shared (two people hold the number), leaver, other_hand (the name beside
    it is `person`'s, the number is `holder`'s), wrong (`person`'s hand under a number nobody holds), zeros (the
    same, but for zeros in front), unknown. `why` is the evidence.
    """

    reader: str
    number: str
    name: str | None
    has_authority: bool
    state: State
    person: str | None
    holder: str | None
    why: str


@dataclass(frozen=True)
class _Likeness:
    """Whose each name beside a number can be, the words of names, and who could have meant each number nobody holds."""

    bearers: dict[str, frozenset[str]]
    named: dict[str, tuple[str, ...]]
    words: dict[str, frozenset[str]]
    explained: dict[str, list[tuple[str, str, str]]]

    def is_borne(self, name: str | None, person: str) -> bool:
        return person in self.bearers.get(name or "", ())


def standings(roster: Roster, readers: Frame, enrolments: Frame) -> list[Standing]:
    """Return where each enrolment stands, in the order of the frame."""
    sites = dict(readers.select("reader", "site").iter_rows())
    anywhere = frozenset(enrolments["number"].to_list())
    enrolled: dict[str, set[str]] = {}
    for reader, number in enrolments.select("reader", "number").iter_rows():
        enrolled.setdefault(reader, set()).add(number)
    likeness = _likeness(roster, enrolments)
    return [
        _standing(roster, likeness, row, sites.get(row["reader"]), enrolled[row["reader"]], anywhere)
        for row in enrolments.iter_rows(named=True)
    ]


def _likeness(roster: Roster, enrolments: Frame) -> _Likeness:
    borne = bearers(enrolments["name"], roster.people).group_by("written").agg("person")
    here = frozenset(roster.here)
    every = {written: frozenset(people) for written, people in borne.iter_rows()}
    names = pl.concat([enrolments["name"], roster.people["name"]]).drop_nulls().unique().alias("name").to_frame()
    words = names.select("name", words=words_of(pl.col("name")))
    unheld = enrolments.filter(~pl.col("number").is_in([n for n in roster.holders if roster.holders_now(n)]))
    employed = roster.people.filter(pl.col("person").is_in(list(roster.here)))
    explained: dict[str, list[tuple[str, str, str]]] = {}
    likeliest = explain(unheld["number"], employed).filter(pl.col("kind") != "own")
    for keyed, *row in (
        likeliest.sort("likelihood", "kind", descending=[True, False])
        .unique(["keyed", "person"], keep="first", maintain_order=True)
        .sort("keyed", "person")
        .select("keyed", "person", "kind", "meant")
        .iter_rows()
    ):
        explained.setdefault(keyed, []).append(tuple(row))
    return _Likeness(
        bearers=every,
        named={written: tuple(sorted(people & here)) for written, people in every.items()},
        words={name: frozenset(found) for name, found in words.iter_rows()},
        explained=explained,
    )


def _standing(
    roster: Roster,
    likeness: _Likeness,
    row: dict[str, Any],
    site: str | None,
    enrolled: set[str],
    anywhere: frozenset[str],
) -> Standing:
    number, name = row["number"], row["name"]
    holders = roster.holders_now(number)
    if holders:
        told = _held(roster, likeness, number, name, holders)
    else:
        told = _told_by_name(roster, likeness, number, name) or _told_by_digits(
            roster, likeness, row, site, enrolled, anywhere
        )
    state, person, holder, why = told
    return Standing(row["reader"], number, name, bool(row["is_supervisor"]), state, person, holder, why)


Told = tuple[State, str | None, str | None, str]


def _held(roster: Roster, likeness: _Likeness, number: str, name: str | None, holders: tuple[str, ...]) -> Told:
    if len(holders) > 1:
        named = likeness.named.get(name or "", ())
        meant = [person for person in holders if person in named]
        return "shared", meant[0] if len(meant) == 1 else None, None, ""
    holder = holders[0]
    if likeness.is_borne(name, holder):
        return "right", holder, holder, ""
    named = likeness.named.get(name or "", ())
    if len(named) == 1:
        why = f"the reader holds the name '{name}' beside {number}, the roster gives {number} to {roster.call(holder)}"
        return "other_hand", named[0], holder, why
    return "right", holder, holder, ""


def _told_by_name(roster: Roster, likeness: _Likeness, number: str, name: str | None) -> Told | None:
    named = likeness.named.get(name or "", ())
    leavers = [person for person in roster.holders.get(number, ()) if person in roster.left]
    if leavers and (len(named) != 1 or likeness.is_borne(name, leavers[-1])):
        return "leaver", leavers[-1], leavers[-1], ""
    told = [person for person in named if roster.number(person)]
    if len(told) != 1:
        return None
    state: State = "zeros" if lost_zeros(number, roster.number(told[0])) else "wrong"
    return state, told[0], None, f"the reader holds the name '{name}' beside {number}"


def _told_by_digits(
    roster: Roster,
    likeness: _Likeness,
    row: dict[str, Any],
    site: str | None,
    enrolled: set[str],
    anywhere: frozenset[str],
) -> Told:
    candidates = list(_candidates(roster, likeness, row["number"], row["name"], site, enrolled))
    nowhere = [one for one in candidates if roster.number(one[1]) not in anywhere]
    zeros = [one for one in candidates if one[0] == "zeros"]
    for likeliest in (zeros, candidates, nowhere):
        if len(likeliest) == 1:
            state, person, why = likeliest[0]
            return state, person, None, why
    guesses = "; ".join(f"{roster.call(person)}, as {why}" for _, person, why in candidates[:4])
    return "unknown", None, None, f"it could be {guesses}" if guesses else ""


def _candidates(
    roster: Roster, likeness: _Likeness, number: str, name: str | None, site: str | None, enrolled: set[str]
) -> Iterator[tuple[State, str, str]]:
    """Yield who may have meant the number: of the site, not enrolled here, and not contradicted by the name."""
    words = likeness.words.get(name or "", frozenset())
    for person, kind, meant in likeness.explained.get(number, ()):
        right = roster.number(person)
        if not right or right in enrolled or not roster.works_at(person, site):
            continue
        if words and not words & likeness.words.get(roster.entries[person]["name"] or "", frozenset()):
            continue
        if lost_zeros(number, right):
            yield "zeros", person, f"{right} without its zeros in front"
        else:
            yield "wrong", person, f"{number} is {KINDS[kind].format(meant=meant)}"
