"""Plan an enrolment day: who goes to which reader in which slot, supervisors first, with the least disruption."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from evenhand.enrolment.planning.constraints import DayProgramme, written
from evenhand.enrolment.planning.groups import Place, grouped
from evenhand.enrolment.planning.programme import SolvedProgramme
from evenhand.enrolment.planning.reasons import left_out
from evenhand.enrolment.tables import ATTENDED, PLAN
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told as tell
from evenhand.terms.records import Refusal

__all__ = ["DayPlan", "EnrolmentDay", "plan_day"]


@dataclass(frozen=True)
class EnrolmentDay:
    """What a day is planned from: VISITS at STATIONS, supervisors STANDING on them, COSTS of calling people away.

    `crews` says who works together: at most `crew_most` of a crew are away in one slot. With `attended`, a supervisor
    stands at a reader whenever people are enrolled there. The visits of each ring in `together` are made in one slot,
    or none of them is.
    """

    visits: Frame
    stations: Frame
    standing: Frame
    costs: Frame
    slots: int
    crews: Mapping[str, str | None] = field(default_factory=dict)
    crew_most: int | None = None
    attended: bool = True
    together: tuple[frozenset[int], ...] = ()


@dataclass(frozen=True)
class DayPlan:
    """A plan (PLAN), who attends each reader (ATTENDED), and who is not in it (LEFT_OUT).

    `minutes` is the weighted time people are called away for, `bound` what no plan that places as many, or
    more, can go below. `gap` is their relative difference: 0 where the plan is proved to be the best.
    """

    plan: Frame
    attended: Frame
    left_out: Frame
    minutes: int
    bound: int

    @property
    def gap(self) -> float:
        """Return how far the plan may be from the best, as a share of its minutes."""
        return (self.minutes - self.bound) / self.minutes if self.minutes > self.bound else 0.0

    @property
    def is_optimal(self) -> bool:
        """Whether no plan with as many people calls them away for less."""
        return self.minutes <= self.bound


def plan_day(day: EnrolmentDay, *, seconds: float = 8.0, told: Frame | None = None, change_minutes: int = 0) -> DayPlan:
    """Return the plan of the day that calls people away for the fewest weighted minutes.

    Nobody but a supervisor is enrolled at a reader before one stands on it (already, or earlier in the day), two
    hold authority on each at the end, no reader takes more people in a slot than it has places, and nobody is in
    two places at once. Where not everybody can be placed, as many as possible are, and the rest stand in `left_out`
    with the reason. Of plans that cost the same an early one is taken, then by name.

    `told` is a plan that people know: a visit that differs from it costs `change_minutes` more, counted in the
    plan's minutes. The search ends after `seconds`; raises Refusal where it has found nothing by then.
    Source: a transport problem with precedence, formulated here; solved as `Programme.solve` says.
    """
    places: dict[str, int] = dict(day.stations.select("reader", "places").sort("reader").iter_rows())
    programme = _programme(day, places, {} if told is None else _places_told(told), change_minutes)
    solved = programme.programme.solve(seconds)
    if solved.values is None:
        raise Refusal(
            tell(
                "no plan was found in {seconds:g} s; give the search longer, or plan fewer readers or people at a "
                "time.",
                seconds=seconds,
            )
        )
    plan = _named(programme, solved)
    return DayPlan(
        plan,
        _attending(programme, solved, plan),
        left_out(programme, solved, places),
        int(plan["minutes"].sum()),
        _whole_bound(solved.bound - _missing(programme, solved)),
    )


def _programme(
    day: EnrolmentDay, places: Mapping[str, int], told: Mapping[int, Place], change_minutes: int
) -> DayProgramme:
    on_it: dict[str, frozenset[str]] = {
        reader: frozenset(who) for reader, who in day.standing.group_by("reader").agg("person").iter_rows()
    }
    within = day.costs.filter(day.costs["slot"] < day.slots)
    supervising = frozenset(day.standing["person"].to_list())
    apart = frozenset(visit for ring in day.together for visit in ring)
    groups = grouped(day.visits, within, day.crews, supervising, told, change_minutes, apart)
    return written(
        groups,
        places,
        on_it,
        _slots_free(within),
        day.slots,
        crew_most=day.crew_most,
        attended=day.attended,
        together=day.together,
        later=0.5 / (1 + day.slots * sum(group.size for group in groups)),
    )


def _places_told(told: Frame) -> dict[int, Place]:
    return {visit: (reader, slot) for visit, reader, slot in told.select("visit", "reader", "slot").iter_rows()}


def _slots_free(costs: Frame) -> dict[str, frozenset[int]]:
    slots = costs.group_by("person").agg("slot")
    return {person: frozenset(free) for person, free in slots.iter_rows()}


def _whole_bound(bound: float) -> int:
    """Return the bound in whole minutes: the search adds less than half a minute in all to put early plans first."""
    return max(math.ceil(bound - 0.5 - 1e-6), 0) if math.isfinite(bound) else 0


def _missing(day: DayProgramme, solved: SolvedProgramme) -> float:
    """Return what the plan's missing visits and supervisors cost the programme."""
    assert solved.values is not None
    return float(sum(day.programme.costs[at] * solved.values[at] for at in (*day.missed.values(), *day.short.values())))


def _named(day: DayProgramme, solved: SolvedProgramme) -> Frame:
    assert solved.values is not None
    rows = []
    for group, goes in zip(day.groups, day.goes, strict=True):
        taken = sorted((slot, reader) for (reader, slot), at in goes.items() for _ in range(solved.values[at]))
        for visit, (slot, reader) in zip(group.visits, taken, strict=False):
            rows.append(
                {
                    "visit": visit,
                    "person": group.people[visit],
                    "reader": reader,
                    "slot": slot,
                    "is_supervisor": group.is_supervisor,
                    "minutes": group.options[reader, slot],
                }
            )
    return PLAN.rows(rows).sort("slot", "reader", "is_supervisor", "visit", descending=[False, False, True, False])


def _attending(day: DayProgramme, solved: SolvedProgramme, plan: Frame) -> Frame:
    """Return who stands where people are enrolled; of several, the one who stood there in the slot before."""
    assert solved.values is not None
    stood: dict[tuple[str, int], str] = {}
    used = sorted(set(plan.select("reader", "slot").iter_rows()))
    for reader, slot in used:
        there = sorted(
            who
            for (who, where, when), at in day.stands.items()
            if (where, when) == (reader, slot) and solved.values[at]
        )
        if there:
            before = stood.get((reader, slot - 1))
            stood[reader, slot] = before if before in there else there[0]
    return ATTENDED.rows({"reader": reader, "slot": slot, "person": who} for (reader, slot), who in stood.items())
