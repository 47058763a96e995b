"""Whose hand each enrolment is, as far as number and name can tell."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from evenhand.reconcile.likeness import is_same_name, lost_zeros, slip_between, taken_from
from evenhand.reconcile.roster import Roster
from evenhand.terms.columns import Frame

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


def standings(roster: Roster, readers: Frame, enrolments: Frame) -> list[Standing]:
    """Return where each enrolment stands, in the order of the frame."""
    sites = dict(readers.select("reader", "site").iter_rows())
    anywhere = frozenset(enrolments["number"].to_list())
    enrolled: dict[str, set[str]] = {}
    for reader, number in enrolments.select("reader", "number").iter_rows():
        enrolled.setdefault(reader, set()).add(number)
    return [
        _standing(roster, row, sites.get(row["reader"]), enrolled[row["reader"]], anywhere)
        for row in enrolments.iter_rows(named=True)
    ]


def _standing(
    roster: Roster, row: dict[str, Any], site: str | None, enrolled: set[str], anywhere: frozenset[str]
) -> Standing:
    number, name = row["number"], row["name"]
    holders = roster.holders_now(number)
    if holders:
        told = _held(roster, number, name, holders)
    else:
        told = _told_by_name(roster, number, name) or _told_by_digits(roster, row, site, enrolled, anywhere)
    state, person, holder, why = told
    return Standing(row["reader"], number, name, bool(row["is_supervisor"]), state, person, holder, why)


Told = tuple[State, str | None, str | None, str]


def _held(roster: Roster, number: str, name: str | None, holders: tuple[str, ...]) -> Told:
    if len(holders) > 1:
        named = roster.named(name)
        meant = [person for person in holders if person in named]
        return "shared", meant[0] if len(meant) == 1 else None, None, ""
    holder = holders[0]
    if is_same_name(name, roster.forms[holder]):
        return "right", holder, holder, ""
    named = roster.named(name)
    if len(named) == 1:
        why = f"the reader holds the name '{name}' beside {number}, the roster gives {number} to {roster.call(holder)}"
        return "other_hand", named[0], holder, why
    return "right", holder, holder, ""


def _told_by_name(roster: Roster, number: str, name: str | None) -> Told | None:
    named = roster.named(name)
    leavers = [person for person in roster.holders.get(number, ()) if person in roster.left]
    if leavers and (len(named) != 1 or is_same_name(name, roster.forms[leavers[-1]])):
        return "leaver", leavers[-1], leavers[-1], ""
    told = [person for person in named if roster.number(person)]
    if len(told) != 1:
        return None
    state: State = "zeros" if lost_zeros(number, roster.number(told[0])) else "wrong"
    return state, told[0], None, f"the reader holds the name '{name}' beside {number}"


def _told_by_digits(
    roster: Roster, row: dict[str, Any], site: str | None, enrolled: set[str], anywhere: frozenset[str]
) -> Told:
    candidates = list(_candidates(roster, row["number"], row["name"], site, enrolled))
    nowhere = [one for one in candidates if roster.number(one[1]) not in anywhere]
    zeros = [one for one in candidates if one[0] == "zeros"]
    for likeliest in (zeros, candidates, nowhere):
        if len(likeliest) == 1:
            state, person, why = likeliest[0]
            return state, person, None, why
    guesses = "; ".join(f"{roster.call(person)}, as {why}" for _, person, why in candidates[:4])
    return "unknown", None, None, f"it could be {guesses}" if guesses else ""


def _candidates(
    roster: Roster, number: str, name: str | None, site: str | None, enrolled: set[str]
) -> Iterator[tuple[State, str, str]]:
    """Yield who may have meant the number: of the site, not enrolled here, and not contradicted by the name."""
    words = {word for word in (name or "").casefold().replace(",", " ").split() if len(word) > 1}
    for person in roster.here:
        right, entry = roster.number(person), roster.entries[person]
        if not right or right in enrolled or not roster.works_at(person, site):
            continue
        if words and not words & {word for form in roster.forms[person] for word in form.split()}:
            continue
        if lost_zeros(number, right):
            yield "zeros", person, f"{right} without its zeros in front"
        elif why := slip_between(number, right) or taken_from(number, entry["phone"], entry["address"]):
            yield "wrong", person, f"{number} is {why}"
