"""Did the hand change or did the reader? Changes of cells against their own past, divided between the two.

Changes are conditioned on being person + reader + noise with known variances; what the data cannot part stays
together in the posterior correlation, and is said so.

Source: Gaussian conditioning, the best linear unbiased prediction of Henderson (1975).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from evenhand.terms.languages import sentence, told

__all__ = ["Change", "ChangePosterior", "estimate_changes", "find_cause", "find_cause_at_reader"]

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Cause = Literal["hand", "reader", "both", "neither", "cannot_tell"]

TOGETHER = -0.75
"""Posterior correlation below which a hand and a reader have hardly been seen apart, however large the change."""


@dataclass(frozen=True)
class ChangePosterior:
    """Change of each person (people,) and reader (readers,), with what their joint covariance is made of.

    `of_person` (people,) is each person's own precision, `shed` (people, readers) what a reader's change takes from a
    person's, `among_readers` the readers' covariance.
    """

    person: Floats
    reader: Floats
    of_person: Floats
    shed: Floats
    among_readers: Floats

    @property
    def person_sd(self) -> Floats:
        """Return the posterior standard deviations of the people's changes."""
        return np.asarray(np.sqrt(1 / self.of_person + ((self.shed @ self.among_readers) * self.shed).sum(axis=1)))

    @property
    def reader_sd(self) -> Floats:
        """Return the posterior standard deviations of the readers' changes."""
        return np.asarray(np.sqrt(np.diag(self.among_readers)))

    def joint(self, person: int, reader: int) -> Floats:
        """Return the joint covariance (2, 2) of a person's and a reader's change."""
        shared = self.among_readers @ self.shed[person]
        own = 1 / self.of_person[person] + self.shed[person] @ shared
        return np.array([[own, -shared[reader]], [-shared[reader], self.among_readers[reader, reader]]])

    def correlation(self, person: int, reader: int) -> float:
        """Return the posterior correlation of a person's and a reader's change: near -1, they cannot be told apart."""
        pair = self.joint(person, reader)
        both = pair[0, 0] * pair[1, 1]
        return float(pair[0, 1] / np.sqrt(both)) if both > 0 else 0.0


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
    of_person = np.asarray(
        np.bincount(person, weights=weight, minlength=people) + 1 / person_variance, dtype=np.float64
    )
    of_reader = np.bincount(reader, weights=weight, minlength=readers) + 1 / reader_variance
    crossed = np.zeros((people, readers))
    np.add.at(crossed, (person, reader), weight)
    shed = crossed / of_person[:, None]
    among_readers = np.asarray(np.linalg.inv(np.diag(of_reader) - crossed.T @ shed), dtype=np.float64)
    pushed = np.bincount(person, weights=weight * change, minlength=people)
    of_readers = among_readers @ (np.bincount(reader, weights=weight * change, minlength=readers) - shed.T @ pushed)
    of_people = (pushed - crossed @ of_readers) / of_person
    return ChangePosterior(of_people, of_readers, np.asarray(of_person), shed, np.asarray(among_readers))


def find_cause(posterior: ChangePosterior, person: int, reader: int, *, bound: float, sure: float = 0.9) -> Change:
    """Return the cause of the change at one cell: the part whose change passes `bound` with chance `sure`.

    Where the two were hardly seen apart, or neither passes by itself while both together do, the answer is that it
    cannot be told, with what would tell: one presentation elsewhere.
    """
    from scipy.special import ndtr

    pair = posterior.joint(person, reader)
    own_sd, reader_sd = np.sqrt(np.diag(pair))
    by_hand = float(ndtr((posterior.person[person] - bound) / own_sd))
    by_reader = float(ndtr((posterior.reader[reader] - bound) / reader_sd))
    together = posterior.person[person] + posterior.reader[reader]
    either = float(ndtr((together - bound) / np.sqrt(max(pair.sum(), 1e-300))))
    correlation = posterior.correlation(person, reader)
    cause: Cause
    if correlation < TOGETHER and either >= sure:
        cause = "cannot_tell"
        says = sentence("Cannot tell hand from reader: one presentation by this person at another reader would.")
    elif by_hand >= sure and by_reader >= sure:
        cause, says = "both", sentence("The hand changed, and so did the reader.")
    elif by_hand >= sure:
        cause, says = "hand", sentence("The hand changed: the person's scores rose wherever they were compared.")
    elif by_reader >= sure:
        cause, says = "reader", sentence("The reader changed: scores rose for its people, who are as before elsewhere.")
    elif either >= sure:
        cause = "cannot_tell"
        says = sentence("Cannot tell hand from reader: one presentation by this person at another reader would.")
    else:
        cause, says = "neither", sentence("Something changed; too little yet to say whether the hand or the reader.")
    return Change(
        cause, float(posterior.person[person]), float(posterior.reader[reader]), correlation, by_hand, by_reader, says
    )


def find_cause_at_reader(posterior: ChangePosterior, person: int, reader: int, *, bound: float) -> Change:
    """Return the cause of a reader's change, as `find_cause` does with one of its people, in words of the reader.

    They name no hand, as the finding is of none; how many hands of all its people changed, each beyond doubt, is said.
    """
    found = find_cause(posterior, person, reader, bound=bound)
    count = _hands_changed(posterior, bound)
    match found.cause:
        case "both" | "reader" if count:
            says = told("The reader changed, and so did {count:# hand|# hands} of its people.", count=count)
        case "hand":
            says = told(
                "Scores rose at this reader, but {count:# hand|# hands} of its people changed, and whether the reader "
                "did as well is not sure.",
                count=count,
            )
        case "cannot_tell":
            says = told(
                "Cannot tell the reader from its people's hands: presentations by some of them at another reader would."
            )
        case _:
            return found
    return replace(found, says=says)


def _hands_changed(posterior: ChangePosterior, bound: float, sure: float = 0.9) -> int:
    """Return how many of all people changed beyond the bound with chance `sure`."""
    from scipy.special import ndtr

    return int((ndtr((posterior.person - bound) / posterior.person_sd) >= sure).sum())
