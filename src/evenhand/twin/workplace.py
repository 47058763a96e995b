"""One invented workplace: what its offices and readers report, and the truth beside it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.records import Refusal
from evenhand.terms.sources import PUNCHES
from evenhand.twin import offices
from evenhand.twin.clocks import reported_at, set_clocks
from evenhand.twin.enrol import choose_readers, enrol
from evenhand.twin.faults import hands_shift, plates_dirt, quiet_days
from evenhand.twin.hands import draw_hands
from evenhand.twin.mistakes import list_mistakes
from evenhand.twin.presentations import (
    LOST,
    PLANTED,
    Presentations,
    Visits,
    lose,
    plant_doubles,
    presentations,
    turn_wrong,
)
from evenhand.twin.readers import COMPANY, SITES, Reader, hang_readers
from evenhand.twin.shifts import Acts, Shifts, act_out, plan_shifts
from evenhand.twin.staff import Staff, hire
from evenhand.twin.truth import NUMBERS, OWNERS, SPANS, Truth

__all__ = ["Workplace", "workplace"]

Ints = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Workplace:
    """A workplace as reported, in frames by `terms.sources`, with its `truth` beside it.

    `punches` stand by reader in the order of the log; `truth.owners` has the same rows. `zones` gives each
    site's zone, `hung` the readers with the form of their logs.
    """

    name: str
    seed: int
    first: date
    days: int
    zones: dict[str, str]
    hung: tuple[Reader, ...]
    people: Frame
    readers: Frame
    enrolments: Frame
    punches: Frame
    schedules: Frame
    consent: Frame
    truth: Truth


def workplace(
    seed: int,
    *,
    first: date = date(2026, 10, 4),
    weeks: int = 6,
    people: int = 300,
    readers: int = 8,
) -> Workplace:
    """Return the workplace that `seed` makes: the same seed and sizes, the same workplace.

    `first` is the first of `weeks` seven-day weeks; the default six lie around the autumn clock change of 2026.
    Raises Refusal for fewer than two weeks, 100 people or 8 readers, which cannot carry every planted mistake.
    """
    if weeks < 2:
        raise Refusal(f"The twin needs at least 2 weeks, not {weeks}; ask for more.")
    rng = np.random.default_rng(seed)
    days = 7 * weeks
    hung = hang_readers(readers)
    staff = hire(rng, people, days)
    enrolled = enrol(rng, staff, hung)
    shifts = _plan(rng, staff, first, days)
    acts = act_out(rng, shifts, people)
    at_reader = choose_readers(rng, acts, enrolled, len(shifts.person))
    acted = Visits(
        acts.person, at_reader, acts.at, shifts.day[acts.shift], acts.goes_in, acts.goes_in, np.zeros_like(acts.at)
    )
    acted, lost = lose(rng, acted, enrolled, quiet_days(hung, first, days))
    kept = np.flatnonzero(lost == 0)
    visits = plant_doubles(rng, turn_wrong(rng, acted.take(kept)))
    hands = draw_hands(rng, hands_shift(staff, days), plates_dirt(hung, days))
    presented, came_through = presentations(rng, visits, hands, enrolled)
    barred = visits.take(np.flatnonzero(~came_through & (visits.planted != PLANTED.index("double"))))
    gone = acted.take(np.flatnonzero(lost != 0))
    reasons = np.concatenate([lost[lost != 0], np.full(len(barred.at), LOST.index("refused_three_times"))])
    unseen = Visits(*(np.concatenate(pair) for pair in zip(gone.columns(), barred.columns(), strict=True)))
    clocks = set_clocks(rng, hung, int(acts.at.min()) - 86_400, int(acts.at.max()) + 86_400)
    punches, owners = _report(
        presented, staff, hung, reported_at(clocks, hung, presented.visits.reader, presented.visits.at)
    )
    enrolments = offices.enrolments(rng, staff, enrolled, hung, first)
    listed = offices.readers(hung, staff, enrolments)
    return Workplace(
        name=COMPANY,
        seed=seed,
        first=first,
        days=days,
        zones=dict(SITES),
        hung=tuple(hung),
        people=offices.people(staff, first),
        readers=listed,
        enrolments=enrolments,
        punches=punches,
        schedules=offices.schedules(staff, shifts),
        consent=offices.consent(rng, staff, first),
        truth=Truth(
            numbers=NUMBERS.frame({"person": staff.person, "number": staff.number}),
            owners=owners,
            spans=_spans(acts, shifts, staff, hung, at_reader),
            mistakes=list_mistakes(
                staff=staff,
                enrolled=enrolled,
                hung=hung,
                first=first,
                days=days,
                clocks=clocks,
                punches=punches,
                owners=owners,
                unseen=unseen,
                reasons=reasons,
            ),
            clocks=clocks,
        ),
    )


def _plan(rng: np.random.Generator, staff: Staff, first: date, days: int) -> Shifts:
    day = np.arange(days)[None, :]
    present = (day >= staff.hired[:, None]) & (day <= staff.works_until[:, None])
    present[staff.parts["never_punched"]] = False
    zones = [SITES[site][1] for site in staff.site.tolist()]
    return plan_shifts(rng, staff.pattern, zones, first_day=(first - date(1970, 1, 1)).days, days=days, present=present)


def _report(presented: Presentations, staff: Staff, hung: list[Reader], at: Ints) -> tuple[Frame, Frame]:
    visits = presented.visits
    is_plain = np.array([reader.form == "plain" for reader in hung])[visits.reader]
    way = np.array(["out", "in"], dtype=object)
    names = np.array([reader.name for reader in hung], dtype=object)
    punches = PUNCHES.frame(
        {
            "reader": names[visits.reader].tolist(),
            "number": presented.number.tolist(),
            "at": at,
            "direction": way[visits.keyed_in.astype(int)].tolist(),
            "outcome": np.array(["refused", "accepted", None], dtype=object)[
                np.where(is_plain, 2, presented.is_accepted)
            ].tolist(),
            "score": [
                None if plain else score
                for plain, score in zip(is_plain.tolist(), presented.score.round(1).tolist(), strict=True)
            ],
        }
    )
    # a plain log holds accepted punches only, and no reader writes the same line twice
    logged = np.flatnonzero(~is_plain | presented.is_accepted)
    distinct = punches[logged].select(pl.struct(PUNCHES.key).is_first_distinct()).to_series().to_numpy()
    kept = logged[distinct]
    planted = np.array([None, *PLANTED[1:]], dtype=object)
    owners = OWNERS.frame(
        {
            "row": np.arange(len(kept)),
            "person": np.array(staff.person, dtype=object)[visits.person[kept]].tolist(),
            "at": visits.at[kept],
            "direction": way[visits.goes_in[kept].astype(int)].tolist(),
            "planted": planted[visits.planted[kept]].tolist(),
        }
    )
    return punches[kept], owners


def _spans(acts: Acts, shifts: Shifts, staff: Staff, hung: list[Reader], at_reader: Ints) -> Frame:
    starts = np.flatnonzero(acts.goes_in)
    at_site = np.array([reader.site for reader in hung])[at_reader[starts]]
    return SPANS.frame(
        {
            "person": np.array(staff.person, dtype=object)[acts.person[starts]].tolist(),
            "site": np.array([name for name, _ in SITES], dtype=object)[at_site].tolist(),
            "shift": acts.shift[starts],
            "starts": acts.at[starts],
            "ends": acts.at[starts + 1],
        }
    ).sort("person", "starts")
