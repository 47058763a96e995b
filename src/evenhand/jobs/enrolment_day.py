"""What an enrolment day is planned from: the day as asked for, and what the store says of people and readers."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import polars as pl

from evenhand import reconcile
from evenhand.enrolment.planning.away import Away, when_away
from evenhand.enrolment.planning.plan import EnrolmentDay
from evenhand.enrolment.tables import DEMANDS, LEFT_OUT, STANDING, STATIONS, VISITS
from evenhand.jobs.consents import another_way, consent_states, why_withheld
from evenhand.jobs.period import RECENT
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.columns import Frame
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal, Unknown
from evenhand.terms.tables import READER_STEPS
from evenhand.terms.zones import day_start

__all__ = [
    "AskedDay",
    "Busy",
    "DaySources",
    "asked_from",
    "day_of",
    "read_sources",
    "slots_of",
    "visits_of",
]


@dataclass(frozen=True)
class Busy:
    """Seconds after midnight in which nobody of a department, or nobody at all, is called away."""

    starts_s: int
    ends_s: int
    department: str | None = None


@dataclass(frozen=True)
class AskedDay:
    """The enrolment day asked for; times are seconds after midnight at the workplace.

    `each_s` is how long one enrolment takes, talk included: measure it, the default is an example.
    `readers` and `people` limit the day to some; `again` names whose hands are enrolled again wherever they are held;
    `languages` names who is spoken to in another language than English.
    """

    day: date
    title: str = sentence("Enrolment")
    starts_s: int = 8 * 3600
    ends_s: int = 16 * 3600
    slot_s: int = 20 * 60
    each_s: int = 5 * 60
    readers: tuple[str, ...] = ()
    people: tuple[str, ...] = ()
    again: tuple[str, ...] = ()
    busy: tuple[Busy, ...] = ()
    crew_most: int | None = None
    attended: bool = True
    languages: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class DaySources:
    """What the store says, the steps (READER_STEPS) that the day is to do, and why whose hand is `withheld`."""

    people: Frame
    readers: Frame
    enrolments: Frame
    schedules: Frame
    withheld: Mapping[str, str]
    steps: Frame


def asked_from(text: str) -> AskedDay:
    """Return the day as it was asked for, from the JSON kept with its round."""
    said = json.loads(text)
    lists = {name: tuple(said[name]) for name in ("readers", "people", "again")}
    busy = tuple(Busy(**span) for span in said["busy"])
    languages = tuple((person, language) for person, language in said["languages"])
    return AskedDay(**{**said, **lists, "day": date.fromisoformat(said["day"]), "busy": busy, "languages": languages})


def slots_of(zone: str, asked: AskedDay) -> list[int]:
    """Return when each slot of the day begins; raises Refusal where the day cannot be one."""
    if not 0 < asked.each_s <= asked.slot_s:
        raise Refusal(told("a slot must be long enough for one enrolment; make it longer, or each enrolment shorter."))
    count = (asked.ends_s - asked.starts_s) // asked.slot_s
    if count < 1:
        raise Refusal(told("the day ends before its first slot does; start earlier, or end later."))
    first = day_start(zone, asked.day, asked.starts_s)
    return [first + slot * asked.slot_s for slot in range(count)]


def read_sources(snapshot: Snapshot, asked: AskedDay) -> DaySources:
    """Return the frames and the steps of the day's readers and people; raises Refusal on an unknown reader."""
    people, readers, enrolments = snapshot.people, snapshot.readers, snapshot.enrolments
    since = day_start(snapshot.zone, asked.day) - int(RECENT.total_seconds())
    recorded = snapshot.recorded.filter(pl.col("at") >= since)
    unknown = sorted(set(asked.readers) - set(readers["reader"].to_list()))
    if unknown:
        raise Unknown(told('there is no reader "{reader}"; `evenhand readers` lists them all.', reader=unknown[0]))
    unattributed = reconcile.attribute(
        recorded, snapshot.holding, readers, snapshot.corrections, policy=snapshot.settings.policy
    ).unattributed
    seen = reconcile.count_seen(recorded)
    found = reconcile.compare(people, readers, enrolments, seen, unattributed, as_of=asked.day)
    states = consent_states(snapshot, asked.day)
    no_hand = another_way(states)
    found = reconcile.with_releases(found, people, enrolments, no_hand, as_of=asked.day)
    steps = reconcile.reader_steps(people, readers, enrolments, found, as_of=asked.day, another_way=no_hand.keys())
    steps = pl.concat([steps, _again(snapshot.listed, enrolments, steps, asked.again)])
    # whom the roster lists no longer gives no hand, nor is one taken off before somebody knows that they left
    is_gone = pl.col("person").is_in(snapshot.gone_people["person"].implode()) & (pl.col("action") != "remove")
    steps = steps.filter(~is_gone.fill_null(value=False))
    if asked.readers:
        steps = steps.filter(pl.col("reader").is_in(asked.readers))
    if asked.people:
        steps = steps.filter(pl.col("person").is_in(asked.people))
    return DaySources(snapshot.listed, readers, enrolments, snapshot.schedules, why_withheld(states), steps)


def _again(people: Frame, enrolments: Frame, steps: Frame, again: Sequence[str]) -> Frame:
    """Return a step (READER_STEPS) for each reader that holds the number of somebody to be enrolled again."""
    here = people.filter(pl.col("person").is_in(list(again)) & pl.col("left_on").is_null()).drop_nulls("number")
    missing = sorted(set(again) - set(here["person"].to_list()))
    if missing:
        raise Unknown(
            told('"{name}" is nobody on the roster with a number; `evenhand people` lists everybody.', name=missing[0])
        )
    held = enrolments.join(here, on="number", suffix="_roster").join(steps, on=["reader", "person"], how="anti")
    return READER_STEPS.rows(
        {
            "reader": row["reader"],
            "position": position,
            "action": "enrol_again",
            "number": row["number"],
            "person": row["person"],
            "name": row["name_roster"],
            "why": sentence("Asked for: the hand is no longer recognised well."),
        }
        for position, row in enumerate(held.sort("reader", "number").iter_rows(named=True), start=steps.height + 1)
    )


def visits_of(sources: DaySources, there: Collection[tuple[str, str]] = ()) -> Frame:
    """Return the steps that need a person, and the supervisors who could make up two where a reader lacks them.

    Whoever waits on a round is `there` (reader, person) already. Nobody makes up two at a reader where all others must
    not be called: they would come for nothing.
    """
    needed = sources.steps.filter(pl.col("action") != "remove")
    rows = [
        {
            "person": step["person"],
            "reader": step["reader"],
            "is_supervisor": step["action"] == "enrol_supervisor",
            "is_needed": True,
        }
        for step in needed.iter_rows(named=True)
    ]
    known = {(row["reader"], row["person"]) for row in rows} | set(_standing(sources).iter_rows()) | {*there}
    sites = dict(sources.readers.select("reader", "site").iter_rows())
    could = sources.people.filter(
        pl.col("is_supervisor").fill_null(value=False) & pl.col("left_on").is_null() & pl.col("number").is_not_null()
    )
    comes = needed.filter(~pl.col("person").is_in(list(sources.withheld)))
    for reader in sorted(comes["reader"].unique().to_list()):
        for person, site in could.select("person", "site").sort("person").iter_rows():
            if site == sites[reader] and (reader, person) not in known:
                rows.append({"person": person, "reader": reader, "is_supervisor": True, "is_needed": False})
    return VISITS.rows(row | {"visit": visit} for visit, row in enumerate(rows))


def _standing(sources: DaySources) -> Frame:
    """Return the roster's supervisors whom the readers hold as such (STANDING)."""
    here = sources.people.filter(pl.col("left_on").is_null()).select("number", "person").drop_nulls()
    held = sources.enrolments.filter(pl.col("is_supervisor").fill_null(value=False)).select("reader", "number")
    rows = (
        held.join(here.unique("number", keep="none"), on="number").unique(["reader", "person"]).sort("reader", "person")
    )
    return STANDING.frame(rows.select("reader", "person").to_dict(as_series=True))


def day_of(
    sources: DaySources,
    asked: AskedDay,
    starts: Sequence[int],
    visits: Frame,
    together: Collection[frozenset[tuple[str, str]]] = (),
) -> tuple[EnrolmentDay, Frame]:
    """Return the day to be planned, and who must not be in it (LEFT_OUT).

    `together` are the (reader, person) of visits made in one slot, ring by ring: without one of them, none is.
    """
    standing = _standing(sources)
    away = _away(sources, asked, starts, visits, standing)
    comes = visits.filter(~pl.col("person").is_in(away.left_out["person"].to_list()))
    comes, rings, alone = _in_rings(comes, together)
    places = asked.slot_s // asked.each_s
    readers = visits["reader"].unique().sort().to_list()
    day = EnrolmentDay(
        comes,
        STATIONS.rows({"reader": reader, "places": places} for reader in readers),
        standing,
        away.costs,
        slots=len(starts),
        crews=dict(sources.people.select("person", "department").iter_rows()),
        crew_most=asked.crew_most,
        attended=asked.attended,
        together=rings,
    )
    return day, pl.concat([away.left_out, alone])


def _in_rings(
    visits: Frame, together: Collection[frozenset[tuple[str, str]]]
) -> tuple[Frame, tuple[frozenset[int], ...], Frame]:
    """Return the visits without those whose ring is not whole, the others' rings, and who is left out (LEFT_OUT)."""
    made = {(reader, person): visit for visit, reader, person in visits.select("visit", "reader", "person").iter_rows()}
    whole = [ring for ring in together if ring <= made.keys()]
    alone = {one for ring in together if ring not in whole for one in ring & made.keys()}
    why = sentence(
        "comes only together with others, their hands under each other's numbers, and not all of them are in the plan."
    )
    left = LEFT_OUT.rows({"reader": reader, "person": person, "why": why} for reader, person in sorted(alone))
    gone = [made[one] for one in alone]
    rings = tuple(frozenset(made[one] for one in ring) for ring in whole)
    return visits.filter(~pl.col("visit").is_in(gone)), rings, left


def _away(sources: DaySources, asked: AskedDay, starts: Sequence[int], visits: Frame, standing: Frame) -> Away:
    """Return when everybody in the visits, and every standing supervisor, can be called away."""
    involved = {*visits["person"].to_list(), *standing["person"].to_list()}
    midnight = starts[0] - asked.starts_s
    demands = DEMANDS.rows(
        {
            "department": busy.department,
            "starts_at": midnight + busy.starts_s,
            "ends_at": midnight + busy.ends_s,
            "weight": None,
        }
        for busy in asked.busy
    )
    near = pl.col("starts_at").is_between(starts[0] - 2 * 86_400, starts[-1] + 2 * 86_400)
    return when_away(
        sources.people.filter(pl.col("person").is_in(list(involved))),
        sources.schedules.filter(near),
        demands,
        withheld={who: why for who, why in sources.withheld.items() if who in set(visits["person"])},
        starts=starts,
        length_s=asked.slot_s,
    )
