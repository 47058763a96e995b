"""Weights learned from a site's own strays: whoever owns one no longer counts among those that are no match."""

from __future__ import annotations

import numpy as np
import pytest

from evenhand.linkage.blocking import Pairs
from evenhand.linkage.comparisons.compare import Comparisons, Decisions, compare_pairs
from evenhand.linkage.comparisons.lists import names_beside
from evenhand.linkage.comparisons.nonmatches import compare_nonmatches
from evenhand.linkage.roster import PeopleColumns
from evenhand.linkage.strays import StrayColumns
from evenhand.linkage.tables import PAIRS
from evenhand.linkage.weights.fitting import fitted_weights
from evenhand.linkage.weights.mixing import learned_mixing
from evenhand.linkage.weights.parameters import Weights
from evenhand.linkage.weights.scoring import fixed_bits
from evenhand.linkage.weights.unlooked import unlooked_people
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
    return fit(mine, people, pairs, found)


def fit(mine: StrayColumns, people: PeopleColumns, pairs: Pairs, found: Comparisons) -> Weights:
    fixed = fixed_bits(found, mine, people, pairs, START)
    unlooked = unlooked_people(mine, people, pairs, np.zeros(mine.size, dtype=np.int64))
    return fitted_weights(START, found, fixed, mine, people, pairs, unlooked, POLICY)


def of_others(mine: StrayColumns, people: PeopleColumns, among: list[bool]) -> list[float]:
    before = {name: u for name, (_, u) in START.mixed.items()} | {"seldom_there": START.seldom_there}
    found = compare_nonmatches(mine, people, np.array(among), POLICY, before=before, pseudo=START.pseudo)
    return found["days"].tolist()


def test_an_owner_does_not_count_among_those_that_are_no_match() -> None:
    mine, people = strays_of(stray("4281", shifts(WEEK))), roster(ROWS, OWNS)
    now = fitted("4281")
    assert now.mixed["days"][1].tolist() == of_others(mine, people, [False] + [True] * 11)
    assert now.mixed["days"][1].tolist() != of_others(mine, people, [True] * 12)
    assert (now.u["enrolment"], now.u["refused"]) == (START.u["enrolment"], START.u["refused"])


def test_where_nobody_is_likely_everybody_counts() -> None:
    # nothing explains 5555, and five days alone do not tell Ana from nobody here
    mine, people = strays_of(stray("5555", shifts(range(1)))), roster(ROWS, OWNS + attributed("A", shifts(WEEK)))
    now = fit(mine, people, every_pair(mine, people), compared(mine, people))
    assert now.mixed["days"][1].tolist() == of_others(mine, people, [True] * 12)
    assert now.nobody > START.nobody


def test_an_owner_who_is_all_but_certain_teaches_what_owners_look_like() -> None:
    now = fitted("4281")
    # one stray all but certainly owned, and five imagined of which one is nobody's
    assert now.nobody == pytest.approx(1 / 6, abs=2e-3)
    # five of five days silent, and ten imagined
    learned = learned_mixing(np.array([5]), np.array([5]), np.ones(1), START.mixed["days"][0], 10.0)
    assert now.mixed["days"][0] == pytest.approx(learned, abs=2e-3)
    assert now.errors["adjacent"] > START.errors["adjacent"]
