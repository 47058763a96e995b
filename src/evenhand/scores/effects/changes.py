"""Did the hand change or did the reader? Changes of cells against their own past, divided between the two.

Changes are conditioned on being person + reader + noise with known variances; what the data cannot part stays
together in the posterior correlation, and is said so.

Source: Gaussian conditioning, the best linear unbiased prediction of Henderson (1975).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

__all__ = ["Change", "ChangePosterior", "estimate_changes", "find_cause"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Cause = Literal["hand", "reader", "both", "neither", "cannot_tell"]

TOGETHER = -0.75
"""Posterior correlation below which a hand and a reader have hardly been seen apart, however large the change."""


@dataclass(frozen=True)
class ChangePosterior:
    """Change of each person (people,) and reader (readers,) with standard deviations, and their joint covariance.

    The covariance has people first and then readers.
    """

    person: Floats
    reader: Floats
    covariance: Floats

    @property
    def person_sd(self) -> Floats:
        """Return the posterior standard deviations of the people's changes."""
        return np.asarray(np.sqrt(np.diag(self.covariance)[: len(self.person)]))

    @property
    def reader_sd(self) -> Floats:
        """Return the posterior standard deviations of the readers' changes."""
        return np.asarray(np.sqrt(np.diag(self.covariance)[len(self.person) :]))

    def correlation(self, person: int, reader: int) -> float:
        """Return the posterior correlation of a person's and a reader's change: near -1, they cannot be told apart."""
        at = len(self.person) + reader
        both = self.covariance[person, person] * self.covariance[at, at]
        return float(self.covariance[person, at] / np.sqrt(both)) if both > 0 else 0.0


@dataclass(frozen=True)
class Change:
    """What is held responsible for one cell's change, and how surely; `says` puts it in words."""

    cause: Cause
    of_person: float
    of_reader: float
    correlation: float
    hand_changed: float
    reader_changed: float
    says: str


def estimate_changes(
    person: Ints,
    reader: Ints,
    change: Floats,
    noise_variance: Floats | float,
    people: int,
    readers: int,
    *,
    person_variance: float,
    reader_variance: float,
) -> ChangePosterior:
    """Return the changes of people and readers given their cells' changes (cells,); `noise_variance` is a cell's own.

    Each person's equation holds only readers besides, so the people are eliminated exactly and one system over the
    readers is left (block inversion by the Schur complement).
    """
    weight = 1 / np.broadcast_to(np.asarray(noise_variance, dtype=np.float64), (len(person),))
    of_person = np.bincount(person, weights=weight, minlength=people) + 1 / person_variance
    of_reader = np.bincount(reader, weights=weight, minlength=readers) + 1 / reader_variance
    crossed = np.zeros((people, readers))
    np.add.at(crossed, (person, reader), weight)
    shed = crossed / of_person[:, None]
    among_readers = np.linalg.inv(np.diag(of_reader) - crossed.T @ shed)
    across = -shed @ among_readers
    covariance = np.block([[np.diag(1 / of_person) - across @ shed.T, across], [across.T, among_readers]])
    pushed = np.bincount(person, weights=weight * change, minlength=people)
    found = covariance @ np.r_[pushed, np.bincount(reader, weights=weight * change, minlength=readers)]
    return ChangePosterior(found[:people], found[people:], covariance)


def find_cause(posterior: ChangePosterior, person: int, reader: int, *, bound: float, sure: float = 0.9) -> Change:
    """Return the cause of the change at one cell: the part whose change passes `bound` with chance `sure`.

    Where the two were hardly seen apart, or neither passes by itself while both together do, the answer is that it
    cannot be told, with what would tell: one presentation elsewhere.
    """
    from scipy.special import ndtr

    at = len(posterior.person) + reader
    by_hand = float(ndtr((posterior.person[person] - bound) / posterior.person_sd[person]))
    by_reader = float(ndtr((posterior.reader[reader] - bound) / posterior.reader_sd[reader]))
    together = posterior.person[person] + posterior.reader[reader]
    pair = posterior.covariance[np.ix_([person, at], [person, at])]
    either = float(ndtr((together - bound) / np.sqrt(max(pair.sum(), 1e-300))))
    correlation = posterior.correlation(person, reader)
    cause: Cause
    if correlation < TOGETHER and either >= sure:
        cause = "cannot_tell"
        says = "Cannot tell hand from reader: one presentation by this person at another reader would."
    elif by_hand >= sure and by_reader >= sure:
        cause, says = "both", "The hand changed, and so did the reader."
    elif by_hand >= sure:
        cause, says = "hand", "The hand changed: the person's scores rose wherever they were compared."
    elif by_reader >= sure:
        cause, says = "reader", "The reader changed: scores rose for its people, who are as before elsewhere."
    elif either >= sure:
        cause = "cannot_tell"
        says = "Cannot tell hand from reader: one presentation by this person at another reader would."
    else:
        cause, says = "neither", "Something changed; too little yet to say whether the hand or the reader."
    return Change(
        cause, float(posterior.person[person]), float(posterior.reader[reader]), correlation, by_hand, by_reader, says
    )
