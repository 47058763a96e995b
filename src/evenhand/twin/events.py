"""What happens at the workplace, from hiring to the last presentation of a hand."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from evenhand.terms.columns import Frame
from evenhand.terms.zones import DAY_S
from evenhand.twin.clocks import set_clocks
from evenhand.twin.enrol import Enrolled, choose_readers, enrol
from evenhand.twin.faults import hands_drift, hands_worn, platens_dirt, quiet_days
from evenhand.twin.hands import draw_hands
from evenhand.twin.presentations import (
    LOST,
    PLANTED,
    Presentations,
    Visits,
    joined,
    lose,
    plant_repeats,
    presentations,
    turn_wrong,
)
from evenhand.twin.readers import SITES, Reader, hang_readers
from evenhand.twin.shifts import Movements, Shifts, plan_shifts, true_movements
from evenhand.twin.staff import Staff, hire

__all__ = ["Events", "happen"]

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Events:
    """Everything that happens in `days` days from `first`.

    `at_reader` is the reader each act was meant for, `unseen` the visits that left no accepted punch, with the
    reason of each as an index of `presentations.LOST`.
    """

    first: date
    days: int
    hung: list[Reader]
    staff: Staff
    enrolled: Enrolled
    shifts: Shifts
    movements: Movements
    at_reader: Ints
    presented: Presentations
    unseen: Visits
    reasons: Ints
    clocks: Frame


def happen(rng: np.random.Generator, first: date, days: int, people: int, readers: int) -> Events:
    """Return what happens; raises Refusal for too few people or readers to carry every planted mistake."""
    hung = hang_readers(readers)
    staff = hire(rng, people, days)
    enrolled = enrol(rng, staff, hung)
    shifts = _plan(rng, staff, first, days)
    movements = true_movements(rng, shifts, people)
    at_reader = choose_readers(rng, movements, enrolled, len(shifts.person))
    meant = Visits(
        movements.person,
        at_reader,
        movements.at,
        shifts.day[movements.shift],
        movements.goes_in,
        movements.goes_in,
        np.zeros_like(movements.at),
    )
    made, lost = lose(rng, meant, enrolled, quiet_days(hung, first, days))
    visits = plant_repeats(rng, turn_wrong(rng, made.take(np.flatnonzero(lost == 0))))
    hands = draw_hands(rng, hands_drift(staff, days), platens_dirt(hung, days), hands_worn(staff, days))
    presented, came_through = presentations(rng, visits, hands, enrolled)
    barred = visits.take(np.flatnonzero(~came_through & (visits.planted != PLANTED.index("double"))))
    return Events(
        first=first,
        days=days,
        hung=hung,
        staff=staff,
        enrolled=enrolled,
        shifts=shifts,
        movements=movements,
        at_reader=at_reader,
        presented=presented,
        unseen=joined(made.take(np.flatnonzero(lost)), barred),
        reasons=np.concatenate([lost[lost != 0], np.full(len(barred.at), LOST.index("refused_three_times"))]),
        clocks=set_clocks(rng, hung, int(movements.at.min()) - DAY_S, int(movements.at.max()) + DAY_S),
    )


def _plan(rng: np.random.Generator, staff: Staff, first: date, days: int) -> Shifts:
    day = np.arange(days)[None, :]
    present = (day >= staff.hired[:, None]) & (day <= staff.works_until[:, None])
    present[staff.parts["never_punched"]] = False
    zones = [SITES[site][1] for site in staff.site.tolist()]
    first_day = (first - date(1970, 1, 1)).days
    return plan_shifts(rng, staff.pattern, zones, first_day=first_day, days=days, present=present)
