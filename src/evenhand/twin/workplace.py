"""One invented workplace: what its offices and readers report, and the truth beside it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.twin import offices
from evenhand.twin.events import happen
from evenhand.twin.mistakes import list_mistakes
from evenhand.twin.readers import COMPANY, SITES, Reader
from evenhand.twin.report import report, true_spans
from evenhand.twin.truth import NUMBERS, Truth

__all__ = ["Workplace", "workplace"]


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
        raise Refusal(told("The twin needs at least 2 weeks, not {weeks}; ask for more.", weeks=weeks))
    rng = np.random.default_rng(seed)
    events = happen(rng, first, 7 * weeks, people, readers)
    staff, hung = events.staff, events.hung
    enrolments = offices.enrolments(rng, staff, events.enrolled, hung, first)
    punches, owners = report(events)
    return Workplace(
        name=COMPANY,
        seed=seed,
        first=first,
        days=events.days,
        zones=dict(SITES),
        hung=tuple(hung),
        people=offices.people(staff, first),
        readers=offices.readers(hung, staff, enrolments),
        enrolments=enrolments,
        punches=punches,
        schedules=offices.schedules(staff, events.shifts),
        consent=offices.consent(rng, staff, first),
        truth=Truth(
            numbers=NUMBERS.frame({"person": staff.person, "number": staff.number}),
            owners=owners,
            spans=true_spans(events),
            mistakes=list_mistakes(events, punches, owners),
            clocks=events.clocks,
        ),
    )
