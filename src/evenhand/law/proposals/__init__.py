"""What a day with an open punch lacks, or has too much: proposals from the person's usual days, never applied."""

from __future__ import annotations

from evenhand.law.proposals.propose import propose_punches
from evenhand.law.proposals.strays import link_strays

__all__ = ["link_strays", "propose_punches"]
