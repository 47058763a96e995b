"""Thresholds: what each would refuse and what it would let pass, where a test has laid other hands under a number.

A punch log holds mated scores in plenty and non-mated ones hardly ever, so a false match rate is never read off
it. Every one carries where it comes from: a planned test, a simulation, or a figure assumed.

Source: ISO/IEC 19795-1 for the rates; Martin et al. (1997), Eurospeech, for the axes (both from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
import numpy.typing as npt

from evenhand.terms.columns import Column, Frame, Table
from evenhand.terms.languages import sentence, told
from evenhand.terms.records import Refusal

__all__ = ["ORIGINS", "ORIGIN_WORDS", "TRADEOFF", "Costs", "Origin", "ThresholdAdvice", "advise_threshold", "tradeoff"]

Floats = npt.NDArray[np.float64]

Origin = Literal["test", "simulation", "assumption"]
ORIGINS: tuple[Origin, ...] = get_args(Origin)
ORIGIN_WORDS: dict[str, str] = {
    "test": sentence("test"),
    "simulation": sentence("simulation"),
    "assumption": sentence("assumption"),
}
"""What is said of where non-mated scores come from."""

TRADEOFF = Table(
    "tradeoff",
    "What each threshold refuses and lets pass",
    (
        Column("threshold", "score", "Accept at this score or below", required=True, unit="reader's own scale"),
        Column("false_non_match_rate", "score", "Mated scores above it", required=True, unit="share"),
        Column("false_match_rate", "score", "Non-mated scores at or below it", required=True, unit="share"),
        Column("origin", "text", "Where the non-mated scores come from", required=True, allowed=ORIGINS),
        Column("mated_axis", "score", "Normal deviate of the false non-match rate"),
        Column("non_mated_axis", "score", "Normal deviate of the false match rate"),
        Column("minutes_lost", "score", "Time lost at readers to refusals", unit="minutes a week"),
        Column("passes", "score", "Wrong hands expected to pass", unit="per year"),
    ),
    key=("threshold",),
)


@dataclass(frozen=True)
class Costs:
    """What errors cost here: presentations a week, minutes a refusal costs, wrong hands tried in a year."""

    presentations_a_week: float
    minutes_a_refusal: float = 0.25
    wrong_hands_a_year: float = 0.0
    minutes_a_false_match: float = 0.0


@dataclass(frozen=True)
class ThresholdAdvice:
    """The threshold that costs least, what it and the present one cost, and on how little that rests."""

    threshold: float
    minutes_a_week: float
    present: float | None
    present_minutes_a_week: float | None
    false_match_rate: float
    origin: Origin
    says: str


def tradeoff(mated: Floats, non_mated: Floats, origin: str, costs: Costs | None = None) -> Frame:
    """Return FNMR and FMR at every score seen (TRADEOFF), lowest threshold first.

    Raises Refusal without mated or without non-mated scores, or where `origin` does not say what these are.
    """
    if origin not in ORIGINS:
        raise Refusal(
            told(
                "say where the non-mated scores come from: {origins:commas}; not {origin}.",
                origins=[told(ORIGIN_WORDS[one]) for one in ORIGINS],
                origin=repr(origin),
            )
        )
    if not len(mated) or not len(non_mated):
        raise Refusal(
            told("a trade-off needs mated and non-mated scores; a punch log has no non-mated ones: plan a test.")
        )
    from scipy.special import ndtri

    at = np.unique(np.concatenate([mated, non_mated]))
    missed = 1 - np.searchsorted(np.sort(mated), at, side="right") / len(mated)
    passed = np.searchsorted(np.sort(non_mated), at, side="right") / len(non_mated)
    columns: dict[str, object] = {
        "threshold": at,
        "false_non_match_rate": missed,
        "false_match_rate": passed,
        "origin": [origin] * len(at),
        "mated_axis": _finite(ndtri(missed)),
        "non_mated_axis": _finite(ndtri(passed)),
    }
    if costs is not None:
        columns["minutes_lost"] = missed * costs.presentations_a_week * costs.minutes_a_refusal
        columns["passes"] = passed * costs.wrong_hands_a_year
    return TRADEOFF.frame(columns)


def _finite(values: Floats) -> list[float | None]:
    return [float(value) if np.isfinite(value) else None for value in values]


def advise_threshold(curve: Frame, costs: Costs, present: float | None = None) -> ThresholdAdvice:
    """Return the threshold that costs least; the lowest where several do.

    Cost a week = minutes lost to refusals + minutes a false match is held to cost times those expected. The
    present threshold is judged at the nearest score seen at or below it.
    """
    weekly = curve["false_non_match_rate"].to_numpy() * costs.presentations_a_week * costs.minutes_a_refusal
    passing = curve["false_match_rate"].to_numpy() * costs.wrong_hands_a_year / 52
    total = weekly + passing * costs.minutes_a_false_match
    best = int(np.argmin(total))
    at = curve["threshold"].to_numpy()
    now = None if present is None else max(int(np.searchsorted(at, present, side="right")) - 1, 0)
    rate = float(curve["false_match_rate"][best])
    origin: Origin = curve["origin"][best]
    says = told(
        "At {threshold:g}, refusals cost about {minutes:.1f} minutes a week, and a wrong hand passes with "
        "chance {share:.2g} % ({origin}).",
        threshold=float(at[best]),
        minutes=float(weekly[best]),
        share=100 * rate,
        origin=told(ORIGIN_WORDS[origin]),
    )
    if now is not None and now != best:
        says = told(
            "{says} At {threshold:g} it is {minutes:.1f} minutes and {share:.2g} %.",
            says=says,
            threshold=present,
            minutes=float(weekly[now]),
            share=100 * float(curve["false_match_rate"][now]),
        )
    return ThresholdAdvice(
        float(at[best]),
        float(total[best]),
        present,
        None if now is None else float(total[now]),
        rate,
        origin,
        says,
    )
