"""Weigh thresholds by a planned test, in which other hands were laid under a number: what a punch log never holds."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from evenhand import scores
from evenhand.terms.columns import Frame
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import Sentence, told
from evenhand.terms.records import Refusal

__all__ = [
    "SCORE_ORIGINS",
    "PlannedTest",
    "Weighed",
    "origin_in_words",
    "parse_planned_test",
    "read_planned_test",
    "weigh_thresholds",
]

SCORE_ORIGINS = scores.ORIGINS
"""Where non-mated scores may come from."""

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class PlannedTest:
    """Scores of mated comparisons (a person under their own number) and of non-mated ones."""

    mated: Floats
    non_mated: Floats


@dataclass(frozen=True)
class Weighed:
    """What each threshold costs (TRADEOFF), and which one costs least; `apart` says it where no scores overlap."""

    curve: Frame
    advice: scores.ThresholdAdvice
    apart: Sentence | None


def origin_in_words(origin: str) -> Sentence:
    """Return what is said of where non-mated scores come from, one of SCORE_ORIGINS."""
    return told(scores.ORIGIN_WORDS[origin])


def weigh_thresholds(
    test: PlannedTest,
    origin: str,
    *,
    presentations_a_week: float,
    minutes_a_refusal: float,
    wrong_hands_a_year: float,
    minutes_a_false_match: float,
    present: float | None,
) -> Weighed:
    """Return what every threshold seen in the test costs, beside the `present` one.

    Raises Refusal where the test lacks mated or non-mated scores, or `origin` is none of SCORE_ORIGINS.
    """
    costs = scores.Costs(presentations_a_week, minutes_a_refusal, wrong_hands_a_year, minutes_a_false_match)
    curve = scores.tradeoff(test.mated, test.non_mated, origin, costs)
    return Weighed(curve, scores.advise_threshold(curve, costs, present), _apart(test))


def _apart(test: PlannedTest) -> Sentence | None:
    """Return what a test shows whose mated scores all lie below its non-mated ones; None for any other.

    Source: Clopper and Pearson (1934): of n tries without an error the one-sided 95 % bound is 1 - 0.05^(1/n).
    """
    low, high = float(test.mated.max()), float(test.non_mated.min())
    if low >= high:
        return None
    return told(
        "The scores of the two kinds do not overlap: every threshold from {low:g} up to below {high:g} accepted all "
        "{right} right and refused all {wrong} wrong ones. So few show only that fewer than {refused:.2g} % of "
        "right hands would be refused and fewer than {passed:.2g} % of wrong ones pass (95 %, each by itself).",
        low=low,
        high=high,
        right=len(test.mated),
        wrong=len(test.non_mated),
        refused=100 * (1 - 0.05 ** (1 / len(test.mated))),
        passed=100 * (1 - 0.05 ** (1 / len(test.non_mated))),
    )


def read_planned_test(path: Path) -> PlannedTest:
    """Return the scores of a CSV file; raises Refusal where it cannot be read, and as `parse_planned_test` does."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as fault:
        raise Refusal(
            told("{path} cannot be read ({strerror}); name another file.", path=path, strerror=why_of(fault))
        ) from fault
    except UnicodeDecodeError as fault:
        raise Refusal(told("{path} is not UTF-8 text; save it as CSV in UTF-8.", path=path)) from fault
    return parse_planned_test(text.splitlines(), str(path))


def parse_planned_test(lines: Iterable[str], name: str) -> PlannedTest:
    """Return the scores of CSV lines with the columns `comparison` (mated, non_mated) and `score`.

    Raises Refusal with name and line for the first row that is not so, since a threshold must not rest on a part.
    """
    found: dict[str, list[float]] = {"mated": [], "non_mated": []}
    rows = csv.DictReader(lines)
    if not {"comparison", "score"} <= set(rows.fieldnames or ()):
        raise Refusal(told("{name} line 1: the columns comparison and score are needed; name them so.", name=name))
    for row in rows:
        found_in = told("{name} line {line}", name=name, line=rows.line_num)
        kind = (row["comparison"] or "").strip().lower().replace("-", "_")
        if kind not in found:
            raise Refusal(
                told(
                    "{where}: comparison is {written}; write mated or non_mated.",
                    where=found_in,
                    written=repr(row["comparison"]),
                )
            )
        found[kind].append(_score(row["score"], found_in))
    return PlannedTest(np.array(found["mated"]), np.array(found["non_mated"]))


def _score(text: str | None, found_in: str) -> float:
    try:
        score = float(text or "")
    except ValueError as fault:
        raise Refusal(
            told("{where}: {written} is no score; write a number.", where=found_in, written=repr(text))
        ) from fault
    if not np.isfinite(score) or score < 0:
        raise Refusal(
            told("{where}: a dissimilarity is 0 or more, not {written}; correct it.", where=found_in, written=text)
        )
    return score
