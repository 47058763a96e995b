"""Plan an enrolment day from what roster and readers disagree on."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any

import polars as pl

from evenhand.enrolment.planning.plan import DayPlan, plan_day
from evenhand.enrolment.rounds import DONE, round_items, round_states, still_to_do
from evenhand.enrolment.tables import LEFT_OUT
from evenhand.jobs.added_turns import spoken_languages
from evenhand.jobs.doable import doable_steps
from evenhand.jobs.enrolment_day import (
    AskedDay,
    DaySources,
    day_of,
    read_sources,
    slots_of,
    visits_of,
)
from evenhand.jobs.keeping_rounds import free_round_name, keep_round, planned_already
from evenhand.jobs.period import RECENT
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.seen import NotAsSeen
from evenhand.jobs.snapshot import Snapshot, take_snapshot
from evenhand.jobs.workspace import Workspace
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence
from evenhand.terms.languages import told as tell
from evenhand.terms.records import Refusal
from evenhand.terms.words import called

__all__ = ["IsAsSeen", "PlannedRound", "plan_round", "zones_of"]

IsAsSeen = Callable[["PlannedRound"], bool]
ON_ROUND = sentence("{who} is on round {round} of that day at {reader} already.")
ON_ANOTHER = sentence(
    "{who} is on round {round} at {reader}, which is not over; whoever is to come on another day is taken off it first."
)
DONE_ON = sentence(
    "{who} was done on round {round} of that day at {reader} already, after its list was taken; take the list anew, or "
    "ask for the hand to be enrolled again."
)


@dataclass(frozen=True)
class PlannedRound:
    """A round as planned; `left_out` says who is not in it and why.

    The day was asked for in `zone`; times are shown in each reader's own, of `zones`. The name is empty for one that
    was not kept. `together` are the (reader, person) enrolled in one visit, ring by ring; of the items those `over` are
    done or put aside already, or not in the plan. `done_before` says by (reader, number) on which round of the day
    something was done that its reader still needs; `names` the names of people by identifier.
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
    names: Mapping[str, str] = field(default_factory=dict)

    def beside(self, reader: str, person: str) -> list[str]:
        """Return the names of who must be there too when a person is enrolled at a reader."""
        ring = next((ring for ring in self.together if (reader, person) in ring), frozenset())
        named = self.items.filter(pl.col("action") != "remove").select("reader", "person", "name").iter_rows()
        return [name for at, who, name in named if (at, who) in ring and who != person]

    def names_whom(self, left: Mapping[str, Any]) -> bool:
        """Return whether the reason why somebody is `left` out (LEFT_OUT) begins with who that is."""
        person = left["person"]
        return bool(person) and str(left["why"]).startswith((person, self.names.get(person) or person))

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
    the roster; what a round of that day or of any still to come holds already, or that day's has done since the
    reader's list was taken, is left out, since people would be called twice. Raises Refusal where there is nothing to
    do, where the day asked for cannot be one, and where a plan to be kept would call nobody for anything; NotAsSeen,
    keeping nothing, where the plan is not the one that somebody was shown, as `is_as_seen` tells.
    """
    if not author.strip():
        raise Refusal(tell("a round is made by somebody; say who."))
    snapshot = take_snapshot(workspace, asked.day - RECENT)
    starts = slots_of(snapshot.zone, asked)
    sources = read_sources(snapshot, asked)
    if sources.steps.is_empty():
        raise Refusal(tell("nothing is to be enrolled or taken off at these readers; there is no round to plan."))
    sources, over, done_before = _not_done_again(snapshot, sources, asked)
    reckoning = Reckoning(snapshot, as_of)
    doable = doable_steps(reckoning, sources.steps)
    waiting = _on_rounds(snapshot, asked, reckoning.day)
    sources, called = _not_called_twice(replace(sources, steps=doable.steps), asked, waiting)
    there = frozenset(waiting.filter(pl.col("action") != "remove").select("reader", "person").iter_rows())
    together = [ring for ring in doable.together if not ring <= there]
    day, left_out = day_of(sources, asked, starts, visits_of(sources, there), together)
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
    on_rounds = called["round"].to_list()
    if items.is_empty() and on_rounds and waiting.filter(pl.col("round").is_in(on_rounds))["is_of_day"].all():
        raise planned_already(on_rounds[0])
    left_out = pl.concat([doable.left_out, left_out, planned.left_out, called, over])
    if keep and items.is_empty():
        raise _nobody_in_it(left_out, snapshot.names)
    kept, zones = name if keep else "", zones_of(snapshot)
    made = PlannedRound(
        kept, snapshot.zone, items, planned, left_out, zones, together, done_before=done_before, names=snapshot.names
    )
    if is_as_seen is not None and not is_as_seen(made):
        raise NotAsSeen
    if keep:
        keep_round(workspace, name, asked, author.strip(), as_of, items)
    return made


def _on_rounds(snapshot: Snapshot, asked: AskedDay, today: date) -> Frame:
    """Return what rounds of the day asked for, or of any from today on, still have to do (STATES), that day's first.

    Beside `day`, and whether it `is_of_day`. What a round of a day gone by left undone holds nobody.
    """
    of_day = pl.col("day") == asked.day
    rounds = snapshot.rounds.filter(of_day | (pl.col("day") >= today)).select("round", "day", is_of_day=of_day)
    states = round_states(snapshot.round_items.join(rounds, on="round", how="semi"), snapshot.outcomes)
    known = states.filter(still_to_do()).join(rounds, on="round", maintain_order="left")
    return known.sort(~pl.col("is_of_day"), "day", "round", maintain_order=True)


def _not_called_twice(sources: DaySources, asked: AskedDay, waiting: Frame) -> tuple[DaySources, Frame]:
    """Return the sources without what rounds still have to do (`waiting`), and whom that leaves out (LEFT_OUT).

    Whoever is to be made a supervisor on a day before is one on the day asked for.
    """
    told = ["reader", "action", "number"]
    on_round = waiting.select(*told, "round", "is_of_day").unique(told, keep="first", maintain_order=True)
    left = sources.steps.join(on_round, on=told, how="anti", maintain_order="left")
    twice = sources.steps.join(on_round, on=told, maintain_order="left")
    called = LEFT_OUT.rows(
        {
            "person": row["person"],
            "reader": row["reader"],
            "why": (ON_ROUND if row["is_of_day"] else ON_ANOTHER).format(
                who=row["name"] or row["number"], round=row["round"], reader=row["reader"]
            ),
            "round": row["round"],
        }
        for row in twice.iter_rows(named=True)
    )
    made = waiting.filter(pl.col("day") < asked.day, pl.col("action") == "enrol_supervisor")
    stand = made.select("reader", "number", is_supervisor=True)
    held = pl.concat([sources.enrolments, stand], how="diagonal")
    return replace(sources, steps=left, enrolments=held), called


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
            over.append({"person": step["person"], "reader": step["reader"], "why": why, "round": was["round"]})
        elif was is not None:
            again[step["reader"], step["number"]] = was["round"]
    made = states.filter(pl.col("result") == "enrolled", pl.col("action") == "enrol_supervisor")
    stand = made.select("reader", "number", is_supervisor=True)
    left = sources.steps.filter(~pl.Series(goes, dtype=pl.Boolean))
    held = pl.concat([sources.enrolments, stand], how="diagonal")
    return replace(sources, steps=left, enrolments=held), LEFT_OUT.rows(over), again


def _nobody_in_it(left_out: Frame, names: Mapping[str, str]) -> Refusal:
    """Refuse a plan that calls nobody, with the reason of whoever is left out first (LEFT_OUT)."""
    if left_out.is_empty():
        return Refusal(
            tell("nobody is in this plan, so no round was made of it; change the day, the readers or whom it is for.")
        )
    first = left_out.sort(pl.col("person").is_null(), maintain_order=True)
    person, reader, why = first.select("person", "reader", "why").row(0)
    who = called(names.get(person, ""), person) if person else reader
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


def zones_of(snapshot: Snapshot) -> dict[str, str]:
    """Return in which zone each reader's times are shown."""
    return dict(snapshot.readers.select("reader", "zone").iter_rows())
