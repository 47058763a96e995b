"""Plan the rest of a round again while it runs: what was done stays, and what is still to come moves."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime
from typing import Any

import polars as pl

from evenhand.enrolment.places import held_after, making_room
from evenhand.enrolment.planning.changes import plan_rest
from evenhand.enrolment.planning.plan import DayPlan
from evenhand.enrolment.rounds import DONE, done_in_order, round_states, still_to_do
from evenhand.enrolment.tables import ATTENDED, LEFT_OUT, PLAN, VISITS
from evenhand.jobs.doable import off_as_planned, stays_on, waits_first
from evenhand.jobs.enrolling import IsAsSeen, PlannedRound, zones_of
from evenhand.jobs.enrolment_day import asked_from, day_of, read_sources, slots_of
from evenhand.jobs.period import RECENT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.snapshot import take_snapshot
from evenhand.jobs.taking_off import TakingOff
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.decisions import decide_alone
from evenhand.store.rounds import move_items
from evenhand.store.written import entry_says
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told as tell
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.rounds import ROUND_ITEMS

__all__ = ["change_round"]

TURN = {"enrol_supervisor": 0, "enrol": 1, "enrol_again": 1}  # within one time
NO_TIME: Mapping[str, Any] = {"starts_at": None, "stands": None}


def change_round(
    workspace: Workspace,
    name: str,
    *,
    absent: Collection[str] = (),
    author: str,
    as_of: datetime,
    seconds: float = 8.0,
    keep: bool = True,
    is_as_seen: IsAsSeen | None = None,
) -> PlannedRound:
    """Plan the rest of a round again as of an instant, and move its items; what has been done stays as it is.

    People in `absent`, by identifier, number or name, do not come today, and nobody is called who finds no place at a
    full reader. Nothing is moved unless it is to be kept. Raises Refusal where nobody says who plans it, and where
    there is no such round or nobody answers to one of `absent`; NotAsSeen as `plan_round` does.
    """
    if not author.strip():
        raise Refusal(tell("the rest of a round is planned again by somebody; say who."))
    with workspace.store.reading() as conn:
        rounds = frames.rounds(conn).filter(pl.col("round") == name)
    if rounds.is_empty():
        raise Unknown(tell('there is no round "{name}"; `evenhand enrol list` lists them.', name=name))
    asked = asked_from(rounds["asked"][0])
    snapshot = take_snapshot(workspace, asked.day - RECENT)
    items = snapshot.round_items.filter(pl.col("round") == name)
    away = {one if one in items["person"] else snapshot.find_person(one)["person"] for one in absent}
    outcomes = snapshot.outcomes.join(items, on="item", how="semi")
    starts = slots_of(snapshot.zone, asked)
    sources = read_sources(snapshot, asked)
    states = round_states(items, outcomes)
    enrolling = states.filter(pl.col("action") != "remove")
    numbered = enrolling.with_row_index("visit").with_columns(pl.col("visit").cast(pl.Int64))
    off = off_as_planned(Reckoning(snapshot, as_of), states)
    first = dict(waits_first(off, enrolling))
    rings = _rings(off, enrolling)
    day, left_out = day_of(sources, asked, starts, _still_to_visit(numbered, first), rings)
    changed = plan_rest(
        DayPlan(_told(numbered, starts), ATTENDED.empty(), LEFT_OUT.empty(), 0, 0),
        day,
        now=sum(start < as_of.timestamp() for start in starts),
        done=numbered.filter(pl.col("result") == "enrolled")["visit"].to_list(),
        absent=away,
        seconds=seconds,
    )
    anew = _planned_anew(numbered, changed, starts, sources.people)
    moved = _moved(states, anew, off)
    left_out = pl.concat([LEFT_OUT.rows(first.values()), left_out, changed.left_out]).unique(maintain_order=True)
    comes = pl.col("action").eq("remove") | pl.col("item").is_in(list(anew))
    over = states.filter(~(still_to_do() & comes))["item"].to_list()
    made = PlannedRound(
        name, snapshot.zone, moved, changed, left_out, zones_of(snapshot), rings, over, names=snapshot.names
    )
    if is_as_seen is not None and not is_as_seen(made):
        raise NotAsSeen
    if keep:
        with workspace.store.writing() as conn:
            decide_alone(conn)
            move_items(conn, moved)
            entry_says(conn, author=author)
    return made


def _still_to_visit(numbered: Frame, but: Collection[str]) -> Frame:
    return VISITS.rows(
        row | {"is_supervisor": row["action"] == "enrol_supervisor", "is_needed": True}
        for row in numbered.iter_rows(named=True)
        if row["result"] not in ("cannot", "not_done") and row["item"] not in but
    )


def _rings(off: TakingOff, states: Frame) -> set[frozenset[tuple[str, str]]]:
    """Return the (reader, person) of what is still to be done in one visit, ring by ring."""
    where = {item: (reader, person) for item, reader, person in states.select("item", "reader", "person").iter_rows()}
    return {frozenset(where[one] for one in ring if one in off.together) for ring in off.together.values()}


def _told(numbered: Frame, starts: Sequence[int]) -> Frame:
    slots = {start: slot for slot, start in enumerate(starts)}
    return PLAN.rows(
        row | {"slot": slots.get(row["starts_at"], 0), "is_supervisor": row["action"] == "enrol_supervisor"}
        for row in numbered.iter_rows(named=True)
    )


def _planned_anew(numbered: Frame, changed: DayPlan, starts: Sequence[int], people: Frame) -> dict[str, dict[str, Any]]:
    """Return by item when it is done by the plan, and who stands there."""
    names = dict(people.select("person", "name").iter_rows())
    stands = {(row["reader"], row["slot"]): names.get(row["person"]) for row in changed.attended.to_dicts()}
    by_visit: dict[int, str] = dict(numbered.select("visit", "item").iter_rows())
    return {
        by_visit[row["visit"]]: {"starts_at": starts[row["slot"]], "stands": stands.get((row["reader"], row["slot"]))}
        for row in changed.plan.iter_rows(named=True)
    }


def _moved(states: Frame, planned: Mapping[str, Mapping[str, Any]], off: TakingOff) -> Frame:
    """Return the items (ROUND_ITEMS) in their new places: what was done, the plan, who is not in it, then removals.

    Whoever is not in the plan has no time any more, and nobody who stands by.
    """
    stay = stays_on(off, states)
    rows: list[Mapping[str, Any]] = []
    for (reader,), here in states.group_by("reader", maintain_order=True):
        done = [row for row in here.to_dicts() if row["result"] in DONE]
        left = [{**row, **planned.get(row["item"], NO_TIME)} for row in here.to_dicts() if row["result"] not in DONE]
        comes = [row for row in left if row["item"] in planned]
        comes.sort(key=lambda row: (row["starts_at"], TURN[row["action"]], row["position"]))
        goes = [
            row
            for row in left
            if row["action"] == "remove" and row["result"] != "not_done" and (reader, row["number"]) not in stay
        ]
        held = held_after(off.numbers.get(reader, ()), done_in_order(here, reader))
        called = making_room(comes, goes, held, off.capacity.get(reader))
        placed = {row["item"] for row in called}
        rest = sorted(
            [*called, *(row for row in left if row["item"] not in placed)], key=lambda row: _rank(row, planned)
        )
        rows += ({**row, "position": place} for place, row in enumerate([*done, *rest], start=1))
    return ROUND_ITEMS.rows(rows)


def _rank(row: Mapping[str, Any], planned: Mapping[str, Any]) -> int:
    if row["action"] == "remove":
        return 2 if row["starts_at"] is None else 0  # one with a time makes room for who is called then
    return 0 if row["item"] in planned else 1
