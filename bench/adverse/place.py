"""A whole workplace as the tool would hold it, with the truth that only its maker knows."""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import UTC, date, datetime, timedelta

import numpy as np
import polars as pl
from bench.adverse.crew import FIRST_AT, Crew, Work, work
from bench.adverse.mishaps import Mishaps, Numbers, clock_shift, crew_shift, draw_numbers, strangers_visits
from bench.adverse.noise import Change, Hands, Noise, draw_hands, followed, present

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.snapshot import Snapshot
from evenhand.store.kept import SETTLED, TAKES
from evenhand.terms.files_told import EARLIER_LAST_DAYS, FORMER_NUMBERS, GONE_PEOPLE, ROSTER_TOLD, ROSTERS_TAKEN
from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS, ROUNDS
from evenhand.terms.settings import PayPeriod, Settings
from evenhand.terms.sources import CONSENT, EARNINGS, ENROLMENTS, PEOPLE, RATES, READERS, SCHEDULES
from evenhand.terms.tables import CORRECTIONS, PREMIUM_DECISIONS, RECORDED, REJECTED_ATTRIBUTIONS

FIRST = date(2026, 1, 5)
SHIFT_S = 8 * 3600
MONTH = 30.4375
GIVEN = (
    "Ada",
    "Bo",
    "Cleo",
    "Dara",
    "Emil",
    "Fay",
    "Gus",
    "Hana",
    "Ivo",
    "June",
    "Kit",
    "Lena",
    "Milo",
    "Nina",
    "Otis",
)
FAMILY = (
    "Ash",
    "Birch",
    "Cole",
    "Dunn",
    "Elm",
    "Frost",
    "Gale",
    "Hart",
    "Isle",
    "Jarr",
    "Knoll",
    "Lark",
    "Marsh",
    "Nye",
)


@dataclass(frozen=True)
class Place:
    """A workplace: what the tool sees as `snapshot`, and the truth.

    `owner` is the place of whoever truly laid each punch's hand down, -1 for an outsider.
    """

    snapshot: Snapshot
    work: Work
    hands: Hands
    numbers: Numbers
    changes: tuple[Change, ...]
    owner: dict[int, int]
    references: np.ndarray

    def refusals(self, who: int, *, anew: bool = False, moved: float | None = None) -> tuple[float, float]:
        """The true share of somebody's presentations that is refused at the end, and refused presentations a month.

        `anew` is by a reference made on the last day; `moved` stands in for how far the hand has truly moved.
        Visits are at the readers, and as often, as in the last four weeks.
        """
        rng, work = np.random.default_rng(who), self.work
        lately = (work.person == who) & (work.day >= work.crew.days - 28)
        readers, visits = np.unique(work.reader[lately], return_counts=True)
        refused = presented = 0.0
        for reader, count in zip(readers.tolist(), visits.tolist(), strict=True):
            away = float(self.hands.moved[who, -1]) if moved is None else moved
            away = 0.0 if anew else away - float(self.references[who, reader])
            one, tries = self.hands.refusals(rng, who, reader, away)
            refused, presented = refused + count * one, presented + count * tries
        whole = int((work.person == who).sum()) / (work.crew.days / MONTH)
        return refused / max(presented, 1), refused / max(int(visits.sum()), 1) * whole

    def reckoning(self, day: int | None = None) -> Reckoning:
        """What the tool works out at the end of a day; of the last one where none is given."""
        until = self.work.crew.days if day is None else day + 1
        end = FIRST_AT + until * 86_400
        seen = self.snapshot.recorded.filter(pl.col("at") < end)
        columns = {one.name: getattr(self.snapshot, one.name) for one in fields(Snapshot)}
        as_of = datetime.fromtimestamp(end, UTC) - timedelta(seconds=1)
        return Reckoning(Snapshot(**{**columns, "recorded": seen}), as_of)


def person_name(who: int) -> str:
    """The identifier on the roster of the person in this place."""
    return f"P{who:05d}"


def reader_name(which: int) -> str:
    """The short name of the reader in this place."""
    return f"R{which:02d}"


def make_place(
    seed: int, crew: Crew, noise: Noise, mishaps: Mishaps | None = None, changes: tuple[Change, ...] = ()
) -> Place:
    """Make a workplace, everything drawn from `seed`."""
    rng, mishaps = np.random.default_rng(seed), mishaps or Mishaps()
    done = work(rng, crew)
    hands = draw_hands(rng, noise, done, changes)
    numbers = draw_numbers(rng, done, mishaps)
    visit, score, refused = present(rng, hands, done)
    number = np.array(
        [
            numbers.keyed.get((who, reader), numbers.of[who])
            if day >= numbers.since.get((who, reader), 0)
            else numbers.of[who]
            for who, reader, day in zip(done.person.tolist(), done.reader.tolist(), done.day.tolist(), strict=True)
        ],
        dtype=object,
    )
    tries = np.arange(len(visit)) - np.searchsorted(visit, visit)
    at = done.at + clock_shift(done, mishaps) + crew_shift(done, mishaps)
    rows = {
        "reader": done.reader[visit],
        "number": number[visit],
        "at": at[visit] + 5 * tries,
        "way": done.way[visit],
        "is_refused": refused,
        "score": score,
        "owner": done.person[visit],
    }
    rows = _with(rows, _slips(rng, done, numbers, at, mishaps.slips))
    rows = _with(rows, _outsiders(rng, done, hands, numbers, mishaps.outsiders))
    recorded, owner = _recorded(rows)
    snapshot = _snapshot(rng, done, numbers, mishaps, recorded)
    return Place(snapshot, done, hands, numbers, changes, owner, followed(hands, done)[1])


def _slips(
    rng: np.random.Generator, done: Work, numbers: Numbers, at: np.ndarray, share: float
) -> dict[str, np.ndarray]:
    """Refused presentations just before the right one, under a mate's number."""
    picked = np.flatnonzero(rng.random(len(at)) < share)
    mates = rng.integers(0, done.crew.people, len(picked))
    return {
        "reader": done.reader[picked],
        "number": np.array([numbers.of[mate] for mate in mates.tolist()], dtype=object),
        "at": at[picked] - 9,
        "way": done.way[picked],
        "is_refused": np.ones(len(picked), bool),
        "score": 75.0 + rng.gamma(3.0, 60.0, len(picked)),
        "owner": done.person[picked],
    }


def _outsiders(
    rng: np.random.Generator, done: Work, hands: Hands, numbers: Numbers, count: int
) -> dict[str, np.ndarray]:
    visits = strangers_visits(rng, done, count)
    return {
        "reader": visits[:, 1],
        "number": np.array([numbers.strangers[one] for one in visits[:, 0].tolist()], dtype=object),
        "at": visits[:, 3],
        "way": visits[:, 4],
        "is_refused": np.zeros(len(visits), bool),
        "score": np.exp(rng.normal(3.0, 0.4, len(visits))),
        "owner": np.full(len(visits), -1),
    }


def _with(rows: dict[str, np.ndarray], more: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    return {name: np.concatenate([rows[name], more[name]]) for name in rows}


def _recorded(rows: dict[str, np.ndarray]) -> tuple[pl.DataFrame, dict[int, int]]:
    order = np.lexsort((rows["at"], rows["reader"]))
    rows = {name: values[order] for name, values in rows.items()}
    recorded = RECORDED.frame(
        {
            "punch": range(len(order)),
            "reader": [reader_name(which) for which in rows["reader"].tolist()],
            "number": rows["number"].tolist(),
            "at": rows["at"].tolist(),
            "direction": np.where(rows["way"] == 0, "in", "out").tolist(),
            "outcome": np.where(rows["is_refused"], "refused", "accepted").tolist(),
            "score": rows["score"].round(1).tolist(),
        }
    )
    return recorded, dict(enumerate(rows["owner"].tolist()))


def _snapshot(
    rng: np.random.Generator, done: Work, numbers: Numbers, mishaps: Mishaps, recorded: pl.DataFrame
) -> Snapshot:
    crew = done.crew
    names = [f"{rng.choice(GIVEN)} {rng.choice(FAMILY)}{chr(97 + who % 26)}" for who in range(crew.people)]
    site = [f"S{place}" for place in done.site.tolist()]
    people = PEOPLE.frame(
        {
            "person": [person_name(who) for who in range(crew.people)],
            "name": names,
            "number": numbers.of,
            "site": site,
            "hired_on": [FIRST - timedelta(days=int(rng.integers(30, 4000))) for _ in range(crew.people)],
            "phone": [f"555-01{value:02d}" for value in rng.integers(0, 100, crew.people).tolist()],
        }
    )
    readers = READERS.frame(
        {
            "reader": [reader_name(which) for which in range(crew.readers)],
            "site": [f"S{which % crew.sites}" for which in range(crew.readers)],
            "zone": ["UTC"] * crew.readers,
        }
    )
    listed = sorted({(who, int(reader)) for who in range(crew.people) for reader in (done.home[who], done.second[who])})
    enrolments = ENROLMENTS.frame(
        {
            "reader": [reader_name(reader) for _, reader in listed],
            "number": [numbers.keyed.get(key, numbers.of[key[0]]) for key in listed],
            "name": [names[who] if mishaps.names else None for who, _ in listed],
            "is_supervisor": [False] * len(listed),
            "enrolled_on": [FIRST - timedelta(days=20)] * len(listed),
        }
    ).unique(["reader", "number"], keep="first", maintain_order=True)
    schedules = SCHEDULES.frame(
        {
            "person": [person_name(who) for who in done.planned_person.tolist()],
            "starts_at": done.planned_at.tolist(),
            "ends_at": (done.planned_at + SHIFT_S).tolist(),
        }
    )
    given: dict[str, object] = dict.fromkeys((one.name for one in fields(Snapshot)), None)
    empty = (
        CONSENT,
        RATES,
        EARNINGS,
        TAKES,
        CORRECTIONS,
        PREMIUM_DECISIONS,
        REJECTED_ATTRIBUTIONS,
        FORMER_NUMBERS,
        ROSTER_TOLD,
        ROSTERS_TAKEN,
        GONE_PEOPLE,
        EARLIER_LAST_DAYS,
        SETTLED,
    )
    given |= {table.name: table.empty() for table in (*empty, ROUNDS, ROUND_ITEMS, OUTCOMES)}
    given |= {"settings": Settings("Works", PayPeriod(FIRST)), "own": {}, "first": FIRST}
    given |= {"people": people, "readers": readers, "enrolments": enrolments, "schedules": schedules}
    given |= {"recorded": recorded}
    return Snapshot(**given)  # type: ignore[arg-type]
