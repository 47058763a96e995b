"""How large hands are and how their measures go together, by published surveys; in mm.

Sources: hand length, breadth, palm length and circumference of men and women with their correlations: ANSUR II,
Gordon et al. (2014), Natick TR-15/007, 4,082 men and 1,986 women of the US Army, worked out from its public records.
Lengths of thumb and fingers: Chatzioglou, Pinar and Govsa (2024), Anatomy & Cell Biology 57:172-182, 32 women and
19 men. Correlations of fingers among themselves (.8 to .9) and with hand length (about .8): from memory of the hand
survey of 1988 (Greiner 1991). What is neither is invented, and says so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

__all__ = ["MEASURES", "PLACEMENT_MM", "Size", "draw_sizes", "sizes"]

Floats = npt.NDArray[np.float64]

MEASURES = (
    "hand_length",
    "hand_breadth",
    "palm_length",
    "hand_circumference",
    "thumb_length",
    "index_length",
    "middle_length",
    "ring_length",
    "little_length",
)

# ANSUR II: mean, standard deviation, and correlations of the first four measures
_ANSUR = {
    "women": (
        (181.083, 78.154, 108.697, 186.550),
        (10.056, 3.843, 5.940, 8.820),
        ((1, 0.570, 0.839, 0.562), (0.570, 1, 0.498, 0.893), (0.839, 0.498, 1, 0.505), (0.562, 0.893, 0.505, 1)),
    ),
    "men": (
        (193.278, 88.261, 116.456, 212.284),
        (9.946, 4.388, 6.233, 10.243),
        ((1, 0.582, 0.795, 0.590), (0.582, 1, 0.477, 0.922), (0.795, 0.477, 1, 0.501), (0.590, 0.922, 0.501, 1)),
    ),
}

# Chatzioglou, Pinar and Govsa: both sexes together, thumb to little finger
_FINGER_MEAN = np.array([49.5, 63.9, 70.7, 65.5, 53.3])
_FINGER_SD = np.array([5.5, 4.1, 5.2, 4.8, 4.3])
_FINGER_WOMEN = 32 / 51
_FINGER_WITH_LENGTH = 0.8  # memory
_FINGER_WITH_FINGER = 0.85  # memory

_PLACEMENT = 0.021
"""Placement error as a share of a measure's size. Repeated measuring of hands errs by up to 1.5 % for lengths and
broad parts (seen in a study of 40 adults); a hand laid down freely errs more, by how much is the twin's choice."""


@dataclass(frozen=True)
class Size:
    """Mean and spread of each of MEASURES within one sex, in mm, and how they correlate."""

    mean: Floats
    sd: Floats
    correlation: Floats


def sizes() -> dict[str, Size]:
    """Return the sizes of women's and men's hands.

    Invented: fingers differ between the sexes in proportion to hand length, and go with the other measures by way
    of hand length alone.
    """
    ratio = _ANSUR["men"][0][0] / _ANSUR["women"][0][0]
    women = _FINGER_MEAN / (_FINGER_WOMEN + (1 - _FINGER_WOMEN) * ratio)
    between = _FINGER_WOMEN * (1 - _FINGER_WOMEN) * np.square(women * (ratio - 1))
    within = np.sqrt(np.square(_FINGER_SD) - between)
    fingers = {"women": women, "men": women * ratio}
    return {
        sex: Size(
            np.concatenate([mean, fingers[sex]]), np.concatenate([sd, within]), _with_fingers(np.array(correlation))
        )
        for sex, (mean, sd, correlation) in _ANSUR.items()
    }


def _with_fingers(correlation: Floats) -> Floats:
    broad, n = len(correlation), len(MEASURES)
    full = np.full((n, n), _FINGER_WITH_FINGER)
    full[:broad, :broad] = correlation
    full[broad:, :broad] = _FINGER_WITH_LENGTH * correlation[0]
    full[:broad, broad:] = full[broad:, :broad].T
    np.fill_diagonal(full, 1.0)
    return full


PLACEMENT_MM: Floats = _PLACEMENT * np.mean([size.mean for size in sizes().values()], axis=0)
"""The spread of one presentation's placement in each of MEASURES."""


def draw_sizes(rng: np.random.Generator, is_man: npt.NDArray[np.bool_]) -> Floats:
    """Return the measures of everybody's hand (people, measures)."""
    drawn = rng.normal(size=(len(is_man), len(MEASURES)))
    by_sex = sizes()
    found = np.empty_like(drawn)
    for sex, chosen in (("women", ~is_man), ("men", is_man)):
        size = by_sex[sex]
        found[chosen] = size.mean + size.sd * (drawn[chosen] @ np.linalg.cholesky(size.correlation).T)
    return found
