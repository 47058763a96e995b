"""Strays that hang together, and what their choices add to each other."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from evenhand.linkage.weights.match_weights import Floats

__all__ = ["IMPOSSIBLE", "Block"]

IMPOSSIBLE = -200.0  # bits; what cannot be true together
MOST_ASSIGNMENTS = 50_000
MOST_STRAYS = 30


@dataclass(frozen=True)
class Block:
    """Strays that hang together. `bits` holds each one's weights, nobody first; `ties` the bits two choices add."""

    bits: tuple[Floats, ...]
    ties: Mapping[tuple[int, int], Floats]

    @property
    def is_small(self) -> bool:
        """Return whether every assignment can be looked at."""
        return len(self.bits) <= MOST_STRAYS and math.prod(map(len, self.bits)) <= MOST_ASSIGNMENTS
