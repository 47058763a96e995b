"""Plan an enrolment day from what roster and readers disagree on, keep it as a round, and change it while it runs."""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import asdict, dataclass, field, replace
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.enrolment.places import held_after, making_room
from evenhand.enrolment.planning.changes import plan_rest
from evenhand.enrolment.planning.plan import DayPlan, plan_day
from evenhand.enrolment.rounds import done_in_order, round_items, round_states, still_to_do
from evenhand.enrolment.tables import ATTENDED, LEFT_OUT, PLAN, VISITS
from evenhand.jobs.added_turns import spoken_languages
from evenhand.jobs.doable import doable_steps, off_as_planned, stays_on, waits_first
from evenhand.jobs.enrolment_day import (
    AskedDay,
    DaySources,
    asked_from,
    day_of,
    read_sources,
    slots_of,
    visits_of,
)
from evenhand.jobs.period import RECENT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.snapshot import Snapshot, take_snapshot
from evenhand.jobs.taking_off import TakingOff
from evenhand.jobs.workspace import Workspace
from evenhand.store import frames
from evenhand.store.database import Connection
from evenhand.store.decisions import decide_alone
from evenhand.store.rounds import add_round, move_items
from evenhand.store.written import entry_says
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence
from evenhand.terms.languages import told as tell
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.rounds import OFF_ROUND, ROUND_ITEMS

__all__ = ["PlannedRound", "change_round", "free_round_name", "keep_round", "plan_round"]

IsAsSeen = Callable[["PlannedRound"], bool]
ON_ROUND = sentence("{who} is on round {round} of that day at {reader} already.")
DONE_ON = sentence(
    "{who} was done on round {round} of that day at {reader} already, after its list was taken; take the list anew, or "
    "ask for the hand to be enrolled again."
)
TURN = {"enrol_supervisor": 0, "enrol": 1, "enrol_again": 1}  # within one time
DONE = ("enrolled", "removed")
NO_TIME: Mapping[str, Any] = {"starts_at": None, "stands": None}


@dataclass(frozen=True)
class PlannedRound:
    """A round as planned; `left_out` says who is not in it and why.

    The day was asked for in `zone`; times are shown in each reader's own, of `zones`. The name is empty for one that
    was not kept. `together` are the (reader, person) enrolled in one visit, ring by ring; of the items those `over` are
    done or put aside already, or not in the plan. `done_before` says by (reader, number) on which round of the day
    something was done that its reader still needs.
    """

    name: str
    zone: str
    items: Frame
    planned: DayPlan
    left_out: Frame
    zones: Mapping[str, str] = field(default_factory=dict)
    together: Collection[frozenset[tuple[str, str]]] = ()
    over: Collection[str] = ()
    done_before: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def beside(self, reader: str, person: str) -> list[str]:
        """Return the names of who must be there too when a person is enrolled at a reader."""
        ring = next((ring for ring in self.together if (reader, person) in ring), frozenset())
        named = self.items.filter(pl.col("action") != "remove").select("reader", "person", "name").iter_rows()
        return [name for at, who, name in named if (at, who) in ring and who != person]

    def zone_at(self, reader: str) -> str:
        """Return in which zone the times at a reader are shown."""
        return self.zones.get(reader, self.zone)


def plan_round(
    workspace: Workspace,
    asked: AskedDay,
    *,
    author: str,
    as_of: datetime,
    seconds: float = 8.0,
    keep: bool = True,
    is_as_seen: IsAsSeen | None = None,
) -> PlannedRound:
    """Return the round of a day, kept in the store unless `keep` is false.

    Who is enrolled where, again or not, and what is taken off follows from the steps that make the readers agree with
    the roster; what a round of that day holds already, or has done since the reader's list was taken, is left out,
    since people would be called twice. Raises Refusal where there is nothing to do, where the day asked for cannot be
    one, and where a plan to be kept would call nobody for anything; NotAsSeen, keeping nothing, where the plan is not
    the one that somebody was shown, as `is_as_seen` tells.
    """
    if not author.strip():
        raise Refusal(tell("a round is made by somebody; say who."))
    snapshot = take_snapshot(workspace, asked.day - RECENT)
    starts = slots_of(snapshot.zone, asked)
    sources = read_sources(snapshot, asked)
    if sources.steps.is_empty():
        raise Refusal(tell("nothing is to be enrolled or taken off at these readers; there is no round to plan."))
    sources, over, done_before = _not_done_again(snapshot, sources, asked)
    doable = doable_steps(Reckoning(snapshot, as_of), sources.steps)
    sources, called, on_round = _not_called_twice(snapshot, replace(sources, steps=doable.steps), asked)
    left = set(sources.steps.select("reader", "person").iter_rows())
    together = [ring for ring in doable.together if ring <= left]
    day, left_out = day_of(sources, asked, starts, visits_of(sources), together)
    planned = plan_day(day, seconds=seconds)
    name = free_round_name(snapshot, asked.day)
    items = round_items(
        name,
        planned.plan,
        sources.steps,
        planned.attended,
        sources.people,
        starts,
        languages=spoken_languages(snapshot) | dict(asked.languages),
        capacity=doable.capacity,
        held=doable.held,
        stay=doable.stay,
    )
    if items.is_empty() and on_round:
        raise _planned_already(on_round)
    left_out = pl.concat([doable.left_out, left_out, planned.left_out, called, over])
    if keep and items.is_empty():
        raise _nobody_in_it(left_out)
    kept, zones = name if keep else "", _zones(snapshot)
    made = PlannedRound(kept, snapshot.zone, items, planned, left_out, zones, together, done_before=done_before)
    if is_as_seen is not None and not is_as_seen(made):
        raise NotAsSeen
    if keep:
        keep_round(workspace, name, asked, author.strip(), as_of, items)
    return made


def _not_called_twice(snapshot: Snapshot, sources: DaySources, asked: AskedDay) -> tuple[DaySources, Frame, str]:
    """Return the sources without what rounds of the day still have to do, whom that leaves out, and one such round."""
    told = ["reader", "action", "number"]
    of_day = snapshot.rounds.filter(pl.col("day") == asked.day)
    states = round_states(snapshot.round_items.join(of_day, on="round", how="semi"), snapshot.outcomes)
    on_round = states.filter(still_to_do()).select(*told, "round").unique(told, keep="first", maintain_order=True)
    left = sources.steps.join(on_round, on=told, how="anti", maintain_order="left")
    twice = sources.steps.join(on_round, on=told, maintain_order="left")
    called = LEFT_OUT.rows(
        {
            "person": row["person"],
            "reader": row["reader"],
            "why": ON_ROUND.format(who=row["name"] or row["number"], round=row["round"], reader=row["reader"]),
        }
        for row in twice.iter_rows(named=True)
    )
    return replace(sources, steps=left), called, next(iter(twice["round"]), "")


def _not_done_again(
    snapshot: Snapshot, sources: DaySources, asked: AskedDay
) -> tuple[DaySources, Frame, dict[tuple[str, str], str]]:
    """Return the sources without what rounds of the day have done since the readers' lists were taken.

    And whom that leaves out (LEFT_OUT), and by (reader, number) the round that did what is needed all the same: by a
    list taken since, or asked for. Who was made a supervisor is one there.
    """
    of_day = snapshot.rounds.filter(pl.col("day") == asked.day)
    states = round_states(snapshot.round_items.join(of_day, on="round", how="semi"), snapshot.outcomes)
    lists = snapshot.enrolment_history.filter(pl.col("gone").is_null())
    taken = dict(lists.group_by("reader").agg(pl.col("told_at").max()).iter_rows())
    done: dict[tuple[str, str, bool], dict[str, Any]] = {}
    for row in states.filter(pl.col("result").is_in(DONE)).sort("at", "item").iter_rows(named=True):
        done[row["reader"], row["number"], row["action"] == "remove"] = row
    over, again, goes = [], {}, []
    for step in sources.steps.iter_rows(named=True):
        was = done.get((step["reader"], step["number"], step["action"] == "remove"))
        is_over = was is not None and was["at"] >= taken.get(step["reader"], 0) and step["person"] not in asked.again
        goes.append(is_over)
        if was is not None and is_over:
            who = step["name"] or step["number"]
            why = DONE_ON.format(who=who, round=was["round"], reader=step["reader"])
            over.append({"person": step["person"], "reader": step["reader"], "why": why})
        elif was is not None:
            again[step["reader"], step["number"]] = was["round"]
    made = states.filter(pl.col("result") == "enrolled", pl.col("action") == "enrol_supervisor")
    stand = made.select("reader", "number", is_supervisor=True)
    left = sources.steps.filter(~pl.Series(goes, dtype=pl.Boolean))
    held = pl.concat([sources.enrolments, stand], how="diagonal")
    return replace(sources, steps=left, enrolments=held), LEFT_OUT.rows(over), again


def _nobody_in_it(left_out: Frame) -> Refusal:
    """Refuse a plan that calls nobody, with the reason of whoever is left out first (LEFT_OUT)."""
    if left_out.is_empty():
        return Refusal(
            tell("nobody is in this plan, so no round was made of it; change the day, the readers or whom it is for.")
        )
    called = left_out.sort(pl.col("person").is_null(), maintain_order=True)
    who, why = called.select(pl.coalesce("person", "reader"), "why").row(0)
    if left_out.height == 1:
        return Refusal(tell("nobody is in this plan, so no round was made of it; {who}: {why}", who=who, why=why))
    return Refusal(
        tell(
            "nobody is in this plan, so no round was made of it; {who} is the first of {count} left out: {why}",
            count=left_out.height,
            who=who,
            why=why,
        )
    )


def _planned_already(name: str) -> Refusal:
    return Refusal(
        tell(
            "{round} is this plan already, and everybody in it would be called twice; nothing was kept. `evenhand "
            "enrol show {round}` shows it, and `evenhand enrol change {round}` plans what is left of it anew.",
            round=name,
        )
    )


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
    made = PlannedRound(name, snapshot.zone, moved, changed, left_out, _zones(snapshot), rings, over)
    if is_as_seen is not None and not is_as_seen(made):
        raise NotAsSeen
    if keep:
        with workspace.store.writing() as conn:
            decide_alone(conn)
            move_items(conn, moved)
            entry_says(conn, author=author)
    return made


def keep_round(workspace: Workspace, name: str, asked: AskedDay, author: str, as_of: datetime, items: Frame) -> None:
    """Keep a round with its items; raises Refusal where it is there already, or its name was taken meanwhile."""
    header = {
        "round": name,
        "title": asked.title,
        "day": asked.day,
        "asked": json.dumps(asdict(asked), default=str),
        "author": author,
        "made_at": int(as_of.timestamp()),
    }
    with workspace.store.writing() as conn:
        decide_alone(conn)
        _refuse_planned(conn, header, items)
        add_round(conn, header, items)


def _refuse_planned(conn: Connection, header: Mapping[str, Any], items: Frame) -> None:
    """Refuse a round that is there already: asked for alike, with the same to do; and one whose name was just taken."""
    rounds, told = frames.rounds(conn), ("reader", "action", "number")
    if header["round"] in rounds["round"]:
        raise Refusal(
            tell("{round} was planned meanwhile by somebody else; nothing was kept, plan again.", round=header["round"])
        )
    for name in rounds.filter(pl.col("asked") == header["asked"])["round"]:
        states = round_states(frames.round_items(conn, name), frames.outcomes(conn, name))
        stays = states.filter(pl.col("reason").ne_missing(pl.lit(OFF_ROUND)))
        if set(stays.select(told).iter_rows()) == set(items.select(told).iter_rows()):
            raise _planned_already(name)


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


def free_round_name(snapshot: Snapshot, day: date) -> str:
    """Return the name of the day's next round."""
    taken = set(snapshot.rounds["round"].to_list())
    running = 1
    while f"{day}-{running}" in taken:
        running += 1
    return f"{day}-{running}"


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


def _zones(snapshot: Snapshot) -> dict[str, str]:
    return dict(snapshot.readers.select("reader", "zone").iter_rows())
