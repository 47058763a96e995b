"""Weights learned from a site's own strays: whoever owns one no longer counts among those that are no match."""

from __future__ import annotations

import numpy as np
import pytest

from evenhand.linkage.comparisons.compare import Comparisons, Decisions, compare_pairs
from evenhand.linkage.comparisons.lists import names_beside
from evenhand.linkage.comparisons.nonmatches import compare_nonmatches
from evenhand.linkage.roster import PeopleColumns
from evenhand.linkage.strays import StrayColumns
from evenhand.linkage.tables import PAIRS
from evenhand.linkage.weights.fitting import fitted_weights
from evenhand.linkage.weights.parameters import Weights
from evenhand.linkage.weights.scoring import fixed_bits
from evenhand.terms.likeness.explain import explain
from evenhand.terms.sources import ENROLMENTS, PEOPLE
from tests.linkage.scene import POLICY, attributed, every_pair, roster, shifts, stray, strays_of

WEEK = range(5)
# Ana, 4821, is missing all week while 4281 is punched; eleven others are there
ROWS = [{"person": "A", "name": "Ana Vell", "number": "4821", "site": "Mill"}] + [
    {"person": f"Q{at}", "name": f"Other {at}", "number": str(7000 + 37 * at), "site": "Mill"} for at in range(11)
]
OWNS = [row for at in range(11) for row in attributed(f"Q{at}", shifts(WEEK))]
START = Weights()


def compared(mine: StrayColumns, people: PeopleColumns) -> Comparisons:
    none = PAIRS.empty()
    listed = ENROLMENTS.empty()
    return compare_pairs(
        mine,
        people,
        every_pair(mine, people),
        explanations=explain(mine.number, PEOPLE.rows(ROWS)),
        enrolments=listed,
        names=names_beside(mine, people, listed),
        decisions=Decisions(none, none, np.zeros(mine.size, dtype=bool)),
        weights=START,
        policy=POLICY,
    )


def fitted(number: str) -> Weights:
    mine, people = strays_of(stray(number, shifts(WEEK))), roster(ROWS, OWNS)
    pairs, found = every_pair(mine, people), compared(mine, people)
    return fitted_weights(START, found, fixed_bits(found, mine, people, pairs, START), mine, people, pairs, POLICY)


def nonmatches(among: list[bool]) -> tuple[float, float]:
    mine, people = strays_of(stray("4281", shifts(WEEK))), roster(ROWS, OWNS)
    spread = {name: u for name, (_, u) in START.spread.items()}
    found = compare_nonmatches(mine, people, np.array(among), POLICY, prior=START.u, spread=spread, pseudo=START.pseudo)
    return found.u["days"], found.spread["days"]


def test_an_owner_does_not_count_among_those_that_are_no_match() -> None:
    now, others = fitted("4281"), nonmatches([False] + [True] * 11)
    # of eleven others, one of them looked at twice, nobody is ever silent; ten imagined are at 0.05
    assert others[0] == pytest.approx(0.5 / 22)
    assert (now.u["days"], now.spread["days"][1]) == pytest.approx(others)
    # what is seen of matches is not touched by it, nor the evidence that is no count
    assert now.spread["days"][0] == START.spread["days"][0]
    assert (now.u["enrolment"], now.u["refused"]) == (START.u["enrolment"], START.u["refused"])


def test_where_nobody_is_likely_everybody_counts() -> None:
    # nothing explains 5555, and five days alone do not tell Ana from nobody here
    mine, people = strays_of(stray("5555", shifts(range(1)))), roster(ROWS, OWNS + attributed("A", shifts(WEEK)))
    pairs, found = every_pair(mine, people), compared(mine, people)
    now = fitted_weights(START, found, fixed_bits(found, mine, people, pairs, START), mine, people, pairs, POLICY)
    everybody = compare_nonmatches(
        mine,
        people,
        np.ones(12, dtype=bool),
        POLICY,
        prior=START.u,
        spread={name: u for name, (_, u) in START.spread.items()},
        pseudo=START.pseudo,
    )
    assert now.u["days"] == pytest.approx(everybody.u["days"])
    assert now.nobody > START.nobody


def test_an_owner_who_is_all_but_certain_teaches_what_owners_look_like() -> None:
    now = fitted("4281")
    # one stray all but certainly owned, and ten imagined of which 0.15 are nobody's
    assert now.nobody == pytest.approx(1.5 / 11, abs=2e-3)
    # five of five days silent, and ten imagined at 0.75
    assert now.m["days"] == pytest.approx((5 + 7.5) / 15, abs=2e-3)
    assert now.errors["adjacent"] > START.errors["adjacent"]
