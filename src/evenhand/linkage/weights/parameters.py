"""What is believed before a site's own strays are looked at, and what is learned from them.

No published rates of wrong numbers at enrolment were found. Slips are weighed as in Verhoeff's census (from
memory), and slips together against numbers known by heart evenly; everything here is common practice without a
source unless it says otherwise, counts as a few observations, and is overtaken by the site's own.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from evenhand.linkage.weights.match_weights import Floats
from evenhand.linkage.weights.mixing import shaped

__all__ = ["AGREEMENTS", "ERROR_KINDS", "OTHER", "Weights"]

AGREEMENTS = ("days", "parity", "name", "enrolment", "dates", "refused", "confirmed")
OTHER = "other"
LENGTHS = (1, 3, 6, 10, 15)
"""Up to how many stretches of work strays are alike; the longest are one kind more."""


ERROR_SHARES = {
    "single": 0.2,
    "adjacent": 0.12,
    "jump": 0.01,
    "twin": 0.006,
    "jump_twin": 0.004,
    "phonetic": 0.006,
    "dropped": 0.08,
    "doubled": 0.03,
    "added": 0.014,
    "zeros_lost": 0.1,
    "zeros_added": 0.03,
    "phone": 0.15,
    "address": 0.08,
    "date": 0.04,
    "own": 0.03,
}
ERROR_KINDS = tuple(ERROR_SHARES)
"""The kinds of error that lead to a number; `OTHER` is any number at all."""


@dataclass(frozen=True)
class Weights:
    """m and u by kind of agreement, the mixture of kinds of error in numbers, and the rest of the model's parameters.

    `nobody` is the share of strays that are nobody's on the roster; `pseudo` how many observations a prior counts as,
    `pseudo_nobody` that of this share, and `pseudo_lengths` that of `lengths`, the shares of strays that are somebody's
    and of those that are nobody's by LENGTHS: alike until a site shows that visitors stay shorter, or longer. The three
    were chosen on seeds 1 to 24 of `bench.adverse`, which do not count among those it is judged by.
    `mixed` are the distributions over CHANCES, of matches and of others, of what differs from person to person, and
    `seldom_there` how silent those are who are seldom there while the stray is not either. `scale_min`, `elsewhere`
    and `mid_shift` belong to the times; at most `effective` punches count as independent of each other. Of the strays
    that are nobody's here, a part `former` comes under the numbers of people who have left or are yet to come. One
    number at two readers is one person's with chance `same_number`; a hand enrolled under a wrong number once was so
    again with chance `wrong_again`.
    """

    nobody: float = 0.2
    errors: dict[str, float] = field(default_factory=lambda: {**ERROR_SHARES, OTHER: 0.1})
    m: dict[str, float] = field(
        default_factory=lambda: {
            "name": 0.95,
            "enrolment": 0.95,
            "dates": 0.5,
            "refused": 0.05,
            "confirmed": 0.9995,
        }
    )
    u: dict[str, float] = field(default_factory=lambda: {"enrolment": 0.5, "refused": 0.002})
    mixed: dict[str, tuple[Floats, Floats]] = field(
        default_factory=lambda: {
            "days": (shaped(1.0, 0.7), shaped(0.15, 1.5)),
            "parity": (shaped(4.0, 1.0), shaped(0.3, 2.5)),
        }
    )
    seldom_there: Floats = field(default_factory=lambda: shaped(3.0, 0.3))
    pseudo: float = 10.0
    pseudo_nobody: float = 5.0
    pseudo_lengths: float = 4.0
    lengths: tuple[Floats, Floats] = field(
        default_factory=lambda: (np.ones(len(LENGTHS) + 1), np.ones(len(LENGTHS) + 1))
    )
    scale_min: float = 10.0
    elsewhere: float = 0.05
    mid_shift: float = 0.45
    effective: int = 5
    same_number: float = 0.9
    wrong_again: float = 0.3
    impossible_bits: float = -10.0
    own_number: float = 0.98
    former: float = 0.5
    two_numbers_bits: float = -6.0
