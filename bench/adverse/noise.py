"""Scores of hands that do not keep to any one law, and what happens to hands and readers over the days."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from bench.adverse.crew import Work

USUAL, THRESHOLD = 22.0, 75.0
TRIES = 3


@dataclass(frozen=True)
class Noise:
    """How scores scatter about a hand's and a reader's level, on the log scale unless said.

    `law`: lognormal, gamma, t3 or laplace. `zeros`: share that the reader answers with 0. `whole`: the reader answers
    in whole multiples of this. `far`: share of presentations laid down wrongly, at twenty times the score.
    `pairs`: spread of a person's own offset at each reader. `uneven`: spread of people's own scatter.
    `daily`: spread of a person's day, that carries on from day to day with `carries`. `weather`: spread of a reader's
    own day, that carries on with `carries` as well, as heat and damp at a gate do. `calendar`: Mondays and the
    season count. `adapts`: how far a reference moves to each accepted hand. `sticky`: how alike are repeated tries.
    """

    law: str = "lognormal"
    sigma: float = 0.4
    people: float = 0.3
    readers: float = 0.1
    zeros: float = 0.0
    whole: float = 0.0
    far: float = 0.0
    pairs: float = 0.0
    uneven: float = 0.0
    daily: float = 0.0
    carries: float = 0.0
    weather: float = 0.0
    calendar: bool = False
    adapts: float = 0.0
    sticky: float = 0.0


@dataclass(frozen=True)
class Change:
    """Something that truly happens: `kind` hand_drift, hand_step, reader_dirt, reader_step or threshold.

    `which` is the person's or the reader's place, `begins` a day, `size` the height on the log scale (for a threshold:
    what its logarithm loses), `over` the days it takes to get there, `ends` the day the plate is cleaned.
    """

    kind: str
    which: int
    begins: int
    size: float
    over: int = 0
    ends: int | None = None

    def height(self, days: int) -> np.ndarray:
        """How high it stands on each day."""
        since = np.arange(days) - self.begins
        grown = np.clip((since + 1) / max(self.over, 1), 0, 1) * self.size
        grown[since < 0] = 0
        if self.ends is not None:
            grown[np.arange(days) >= self.ends] = 0
        return grown


@dataclass(frozen=True)
class Hands:
    """Levels as drawn: of people by day, readers by day, pairs, people's scatter, and thresholds by reader and day.

    `usual` is each person's level without its days and changes, `moved` the changes alone by day.
    """

    noise: Noise
    usual: np.ndarray
    person: np.ndarray
    reader: np.ndarray
    pair: np.ndarray
    scatter: np.ndarray
    threshold: np.ndarray
    moved: np.ndarray = field(repr=False)

    def refusals(self, rng: np.random.Generator, person: int, reader: int, moved: float) -> tuple[float, float]:
        """The true refused presentations a visit, and presentations a visit, of a hand so far from its reference.

        Over days such as the last week of the log, with the tries that follow a refusal.
        """
        count = 20_000
        day = self.reader.shape[1] - 1 - rng.integers(0, 7, count)
        level = self.usual[person] + self.pair[person, reader] + moved + self.reader[reader, day]
        level = level + rng.normal(0, 1, count) * self.noise.daily
        visit, _, refused = _tries(
            rng, self.noise, level, np.full(count, self.scatter[person]), self.threshold[reader, day]
        )
        return float(refused.sum()) / count, len(visit) / count


def draw_hands(rng: np.random.Generator, noise: Noise, work: Work, changes: tuple[Change, ...]) -> Hands:
    """Draw the levels of a workplace's people and readers, with what changes in them."""
    crew = work.crew
    usual = rng.normal(0, noise.people, crew.people)
    person = np.repeat(usual[:, None], crew.days, axis=1)
    if noise.daily:
        person = person + noise.daily * _wandering(rng, person.shape, noise.carries)
    reader = np.repeat(rng.normal(0, noise.readers, crew.readers)[:, None], crew.days, axis=1)
    if noise.weather:
        reader = reader + noise.weather * _wandering(rng, reader.shape, noise.carries)
    if noise.calendar:
        days = np.arange(crew.days)
        reader = reader + 0.15 * (days % 7 == 0) + 0.2 * np.sin(2 * np.pi * days / 365.25)
    threshold = np.full(reader.shape, THRESHOLD)
    moved = np.zeros(person.shape)
    for change in changes:
        height = change.height(crew.days)
        if change.kind.startswith("hand"):
            moved[change.which] += height
        elif change.kind == "threshold":
            threshold[change.which] *= np.exp(-height)
        else:
            reader[change.which] += height
    scatter = noise.sigma * np.exp(noise.uneven * rng.normal(0, 1, crew.people))
    pair = (
        rng.normal(0, noise.pairs, (crew.people, crew.readers))
        if noise.pairs
        else np.zeros((crew.people, crew.readers))
    )
    return Hands(noise, usual, person + moved, reader, pair, scatter, threshold, moved)


def _wandering(rng: np.random.Generator, shape: tuple[int, ...], carries: float) -> np.ndarray:
    """Days of spread 1 (rows, days), of which each keeps so much of the one before."""
    step = rng.normal(0, 1, shape)
    for day in range(1, shape[1]):
        step[:, day] = carries * step[:, day - 1] + np.sqrt(1 - carries**2) * step[:, day]
    return step


def present(rng: np.random.Generator, hands: Hands, work: Work) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Lay the hands down: the visit of each presentation, its score as the reader answers, and whether it refused.

    Whoever is refused tries again, three times in all. Where references adapt, a hand's distance from its reference
    shrinks with each accepted presentation.
    """
    level = hands.person[work.person, work.day] + hands.reader[work.reader, work.day]
    level = level + hands.pair[work.person, work.reader] - followed(hands, work)[0]
    return _tries(rng, hands.noise, level, hands.scatter[work.person], hands.threshold[work.reader, work.day])


def _tries(
    rng: np.random.Generator, noise: Noise, level: np.ndarray, scatter: np.ndarray, limit: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    open_, rows, last = np.arange(len(level)), [], None
    for _ in range(TRIES):
        scores = _scores(rng, noise, level[open_], scatter[open_])
        if last is not None and noise.sticky:
            stays = rng.random(len(open_)) < noise.sticky
            scores = np.where(stays, last * np.exp(rng.normal(0, 0.1, len(open_))), scores)
        scores = _answered(rng, noise, scores)
        refused = scores > limit[open_]
        rows.append((open_, scores, refused))
        open_, last = open_[refused], scores[refused]
    visit, scores, refused = (np.concatenate(columns) for columns in zip(*rows, strict=True))
    order = np.argsort(visit, kind="stable")
    return visit[order], scores[order], refused[order]


def followed(hands: Hands, work: Work) -> tuple[np.ndarray, np.ndarray]:
    """How much of a hand's change its reference has followed: by each visit, and in the end (people, readers).

    There is a reference at each reader.
    """
    rate = hands.noise.adapts
    gone, ends = np.zeros(len(work.person)), np.zeros(hands.pair.shape)
    if not rate:
        return gone, ends
    moved = hands.moved[work.person, work.day]
    for row, key in enumerate(zip(work.person.tolist(), work.reader.tolist(), strict=True)):
        gone[row] = ends[key]
        ends[key] += rate * (moved[row] - ends[key])
    return gone, ends


def _scores(rng: np.random.Generator, noise: Noise, level: np.ndarray, scatter: np.ndarray) -> np.ndarray:
    count = len(level)
    if noise.law == "gamma":
        shape = 1 / scatter**2
        drawn = np.log(rng.gamma(shape) / shape)
    elif noise.law == "t3":
        drawn = scatter * rng.standard_t(3, count) / np.sqrt(3)
    elif noise.law == "laplace":
        drawn = rng.laplace(0, scatter / np.sqrt(2))
    else:
        drawn = scatter * rng.normal(0, 1, count)
    scores = USUAL * np.exp(level + drawn)
    return np.where(rng.random(count) < noise.far, 20 * scores, scores) if noise.far else scores


def _answered(rng: np.random.Generator, noise: Noise, scores: np.ndarray) -> np.ndarray:
    answered = np.minimum(scores, 9999.0)
    if noise.whole:
        answered = np.round(answered / noise.whole) * noise.whole
    return np.where(rng.random(len(scores)) < noise.zeros, 0.0, answered)
