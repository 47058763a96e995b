"""The round to practise on: read it with its drawings, and read a result that was written down."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import resources

from evenhand.enrolment.paper.drawings import drawing
from evenhand.enrolment.teaching.scenario import Scenario, Text, parse_scenario, sent_along

__all__ = ["Scenario", "Text", "drawings", "practice_round", "sent_along"]


@cache
def practice_round() -> Scenario:
    """Return the round to practise on."""
    beside = resources.files("evenhand.enrolment.teaching")
    return parse_scenario(beside.joinpath("scenario.toml").read_text(encoding="utf-8"))


def drawings() -> Mapping[str, str]:
    """Return the drawings of the round, by name, as SVG."""
    return {name: drawing(name) for name in practice_round().pictures}
