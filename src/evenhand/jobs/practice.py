"""The round to practise on: read it with its drawings, and read a result that was written down."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import resources

from evenhand.enrolment.teaching.scenario import Scenario, Text, parse_scenario, sent_along

__all__ = ["Scenario", "Text", "drawings", "practice_round", "sent_along"]

DRAWN = {"well_laid": "hand.svg", "off_posts": "hand_off_posts.svg", "ring": "hand_ring.svg"}


@cache
def practice_round() -> Scenario:
    """Return the round to practise on."""
    beside = resources.files("evenhand.enrolment.teaching")
    return parse_scenario(beside.joinpath("scenario.toml").read_text(encoding="utf-8"))


@cache
def drawings() -> Mapping[str, str]:
    """Return the drawings of the round, by name, as SVG."""
    beside = resources.files("evenhand.enrolment.paper")
    return {name: beside.joinpath(file).read_text(encoding="utf-8") for name, file in DRAWN.items()}
