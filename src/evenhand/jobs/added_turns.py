"""Add somebody who stands at a reader to the round that is held there."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import date
from typing import Any

import polars as pl

from evenhand import reconcile
from evenhand.enrolment.places import has_place, held_after
from evenhand.enrolment.rounds import FINAL, done_in_order, last_running
from evenhand.jobs.consents import hands_given
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.rounds import RoundSeen, see_round
from evenhand.jobs.snapshot import Snapshot
from evenhand.jobs.taking_off import taking_off
from evenhand.jobs.workspace import Workspace
from evenhand.store.decisions import decide_alone
from evenhand.store.rounds import add_items, move_items
from evenhand.store.written import entry_says
from evenhand.terms.columns import Frame
from evenhand.terms.consent import unreleased
from evenhand.terms.languages import LANGUAGES, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.rounds import ROUND_ITEMS

__all__ = ["add_turn", "spoken_languages"]


def spoken_languages(snapshot: Snapshot) -> dict[str, str]:
    """Return the language in which people read the policy when they last said something of their hand, by person."""
    said = snapshot.consent_decisions.filter(pl.col("language").is_in(LANGUAGES)).sort("decision")
    return dict(said.select("person", "language").iter_rows())


def add_turn(workspace: Workspace, reckoning: Reckoning, name: str, reader: str, said: str, *, author: str) -> str:
    """Add whoever `said` names, by their whole number or name, to a round at a reader, and return their item.

    Theirs is the next turn; whether a release is in force is told there, where one can be given. Raises Unknown for
    nobody, and Refusal where the person has a turn there already, or cannot be enrolled under a number of their own.
    """
    snapshot = reckoning.snapshot
    who = _who(snapshot, said, reckoning.day)
    with workspace.store.writing() as conn:
        decide_alone(conn)
        seen = see_round(workspace, name)
        _refuse(reckoning, seen, reader, who)
        item, rows = _placed(seen, reader, who | {"action": _action(snapshot, reader, who)}, snapshot)
        add_items(conn, rows.filter(pl.col("item") == item))
        move_items(conn, rows.filter(pl.col("item") != item))
        entry_says(conn, author=author)
    return item


def _who(snapshot: Snapshot, said: str, on: date) -> dict[str, Any]:
    roster = reconcile.roster_on(snapshot.people, on).filter("is_here")
    found = roster.filter(pl.col("number") == said.strip())
    if found.is_empty():
        words = _plain(said)
        names = [bool(words) and _plain(name or "") == words for name in roster["name"]]
        found = roster.filter(pl.Series(names, dtype=pl.Boolean))
    if found.height > 1:
        raise Refusal(told("several people have that name or number; key the number of the one who is here."))
    if found.is_empty():
        raise Unknown(
            told("nobody on the roster has that whole name or number; look at it once more, or send them to the desk.")
        )
    return dict(found.row(0, named=True))


def _plain(name: str) -> list[str]:
    """Return the words of a name in small letters and without accents, in one order whichever comes first."""
    letters = unicodedata.normalize("NFKD", name.casefold())
    return sorted(re.findall(r"\w+", "".join(one for one in letters if not unicodedata.combining(one))))


def _refuse(reckoning: Reckoning, seen: RoundSeen, reader: str, who: Mapping[str, Any]) -> None:
    snapshot = reckoning.snapshot
    name, number = who["name"] or who["person"], who["number"]
    here = seen.states.filter(pl.col("reader") == reader)
    turn = here.filter(pl.col("person") == who["person"], pl.col("action") != "remove").to_dicts()
    if turn and turn[-1]["result"] in FINAL:
        raise Refusal(told("{name} had a turn here already; put it back under what was tapped.", name=name))
    if turn:
        raise Refusal(told("{name} has a turn here already; pass over the others until it comes.", name=name))
    holders = snapshot.here(reckoning.day).filter(pl.col("number") == number) if number else None
    if holders is None or holders.height != 1:
        raise Refusal(told("the roster gives {name} no number that is theirs alone; send them to the desk.", name=name))
    entry = snapshot.readers.filter(pl.col("reader") == reader).row(0, named=True)
    if entry["max_digits"] is not None and len(number) > entry["max_digits"]:
        raise Refusal(
            told("{number} is longer than this reader takes; send {name} to the desk.", number=number, name=name)
        )
    off = taking_off(reckoning, here)
    held = held_after(off.numbers.get(reader, ()), done_in_order(here, reader))
    if not has_place(number, held, entry["capacity"]):
        if who["person"] in unreleased(hands_given(reckoning).states):  # no room is spoken of before they decided
            raise Refusal(
                told(
                    "no release of {name} is in force, so nothing is said of their hand here; at the desk they read "
                    "and decide first.",
                    name=name,
                )
            )
        raise Refusal(
            told(
                "this reader is full; {name} is enrolled once a number that nobody works with has come off.", name=name
            )
        )


def _action(snapshot: Snapshot, reader: str, who: Mapping[str, Any]) -> str:
    if who["is_supervisor"]:
        return "enrol_supervisor"
    here = (pl.col("reader") == reader) & (pl.col("number") == who["number"])
    return "enrol" if snapshot.enrolments.filter(here).is_empty() else "enrol_again"


def _placed(seen: RoundSeen, reader: str, who: Mapping[str, Any], snapshot: Snapshot) -> tuple[str, Frame]:
    """Return the new item's name, and all items of the reader in their places, the new one before whoever is next."""
    name = seen.header["round"]
    running = 1 + last_running(seen.states)
    here = seen.states.filter(pl.col("reader") == reader).select(ROUND_ITEMS.names).to_dicts()
    new = {
        "item": f"{name}-{running}",
        "round": name,
        "reader": reader,
        **{key: who[key] for key in ("action", "number", "person", "name")},
        "language": spoken_languages(snapshot).get(who["person"], "en"),
    }
    waiting = seen.waiting(reader)["position"].to_list()
    before = (waiting[0] if waiting else len(here) + 1) - 1
    rows = [*here[:before], new, *here[before:]]
    return new["item"], ROUND_ITEMS.rows(row | {"position": place} for place, row in enumerate(rows, start=1))
