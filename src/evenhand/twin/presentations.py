"""From what people did to what they presented: punches forgotten, doubled, keyed the wrong way, tried again."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from evenhand.twin.enrol import Enrolled
from evenhand.twin.hands import THRESHOLD, TRIES, HandMeasures, other_hand, present

__all__ = ["LOST", "PLANTED", "Visits", "joined", "lose", "plant_repeats", "presentations", "turn_wrong"]

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

LOST = ("", "not_enrolled", "reader_quiet", "forgotten", "refused_three_times")
PLANTED = ("", "double", "wrong_direction", "other_number")


@dataclass(frozen=True)
class Visits:
    """People at readers as columns (visits,): `goes_in` truly, `keyed_in` as keyed, `planted` an index of PLANTED."""

    person: Ints
    reader: Ints
    at: Ints
    day: Ints
    goes_in: npt.NDArray[np.bool_]
    keyed_in: npt.NDArray[np.bool_]
    planted: Ints

    def take(self, which: npt.NDArray[np.generic]) -> Visits:
        """Return the visits that a mask or a list of places picks."""
        return Visits(*(column[which] for column in self.columns()))

    def columns(self) -> tuple[npt.NDArray[np.generic], ...]:
        """Return the columns in order."""
        return (self.person, self.reader, self.at, self.day, self.goes_in, self.keyed_in, self.planted)


def joined(first: Visits, then: Visits) -> Visits:
    """Return the visits of both, one after the other."""
    return Visits(*(np.concatenate(pair) for pair in zip(first.columns(), then.columns(), strict=True)))


def lose(
    rng: np.random.Generator, visits: Visits, enrolled: Enrolled, quiet: tuple[int, int, int]
) -> tuple[Visits, Ints]:
    """Return the visits at the readers people then used, and for each why it is lost (an index of LOST, 0 not lost).

    `quiet` is a reader that records nothing from one instant to another: whoever can goes to another reader.
    """
    reader_off, starts, ends = quiet
    is_off = (visits.reader == reader_off) & (visits.at >= starts) & (visits.at < ends)
    elsewhere = np.where(
        enrolled.own[visits.person] == reader_off, enrolled.other[visits.person], enrolled.own[visits.person]
    )
    reader = np.where(is_off, elsewhere, visits.reader)
    lost = np.where(rng.random(len(reader)) < 0.005, LOST.index("forgotten"), 0)
    lost[is_off & (elsewhere == reader_off)] = LOST.index("reader_quiet")
    lost[enrolled.number[visits.person, reader] == ""] = LOST.index("not_enrolled")
    return replace(visits, reader=reader), lost


def turn_wrong(rng: np.random.Generator, visits: Visits) -> Visits:
    """Return the visits with four in a thousand keyed the wrong way."""
    wrong = rng.random(len(visits.at)) < 0.004
    return replace(
        visits,
        keyed_in=visits.goes_in ^ wrong,
        planted=np.where(wrong, PLANTED.index("wrong_direction"), visits.planted),
    )


def plant_repeats(rng: np.random.Generator, visits: Visits) -> Visits:
    """Return the visits with five in a thousand made twice within 45 seconds, in order of time."""
    again = visits.take(np.flatnonzero((rng.random(len(visits.at)) < 0.005) & (visits.planted == 0)))
    again = replace(
        again,
        at=again.at + rng.integers(20, 46, len(again.at)),
        planted=np.full(len(again.at), PLANTED.index("double")),
    )
    both = joined(visits, again)
    return both.take(np.argsort(both.at, kind="stable"))


@dataclass(frozen=True)
class Presentations:
    """Every laying-down of a hand, by reader and time; `visit` is its place in the visits, -1 for another's number."""

    visits: Visits
    number: npt.NDArray[np.object_]
    is_accepted: npt.NDArray[np.bool_]
    score: Floats


def presentations(
    rng: np.random.Generator, visits: Visits, hands: HandMeasures, enrolled: Enrolled
) -> tuple[Presentations, npt.NDArray[np.bool_]]:
    """Return the presentations by reader and time, and for each visit whether it ended accepted.

    Refused tries come six seconds apart, the last of a visit at its own time. Ten visits in ten thousand begin
    with somebody else's number, keyed by a slip and refused.
    """
    answer = present(rng, hands, visits.person, visits.reader, visits.day)
    visit, attempt = np.nonzero(~np.isnan(answer.scores))
    tried = visits.take(visit)
    last = attempt == answer.tries[visit] - 1
    tried = replace(tried, at=tried.at - 6 * (answer.tries[visit] - 1 - attempt))
    number = enrolled.number[tried.person, tried.reader]
    slips, claimed, score = _slips(rng, visits, hands, enrolled)
    rows = joined(tried, slips)
    refused = np.zeros(len(claimed), dtype=bool)
    all_rows = Presentations(
        rows,
        np.concatenate([number, enrolled.number[claimed, slips.reader]]),
        np.concatenate([last & answer.is_accepted[visit], refused]),
        np.concatenate([answer.scores[visit, attempt], score]),
    )
    order = np.lexsort((rows.at, rows.reader))
    return (
        Presentations(rows.take(order), all_rows.number[order], all_rows.is_accepted[order], all_rows.score[order]),
        answer.is_accepted,
    )


def _slips(
    rng: np.random.Generator, visits: Visits, hands: HandMeasures, enrolled: Enrolled
) -> tuple[Visits, Ints, Floats]:
    slips = visits.take(np.flatnonzero(rng.random(len(visits.at)) < 0.001))
    claimed = rng.integers(0, len(enrolled.own), len(slips.at))
    score = other_hand(rng, hands, slips.person, claimed)
    own = enrolled.number[slips.person, slips.reader]
    number = enrolled.number[claimed, slips.reader]
    kept = np.flatnonzero((number != "") & (number != own) & (score > THRESHOLD))
    slips = slips.take(kept)
    return (
        replace(
            slips,
            at=slips.at - 6 * (TRIES + 1) - rng.integers(0, 15, len(kept)),
            planted=np.full(len(kept), PLANTED.index("other_number")),
        ),
        claimed[kept],
        score[kept],
    )
