"""An enrolment counts once a hand has been accepted under the right number."""

from __future__ import annotations

from evenhand.enrolment.proof import prove
from evenhand.enrolment.rounds import round_states
from evenhand.terms.sources import PEOPLE
from evenhand.terms.tables import RECORDED
from tests.enrolment.rounds import items, outcomes

TEN = 1_773_050_400
ITEMS = items(
    ("r1-1", "GATE", 1, "enrol", "P1", "4471"),
    ("r1-2", "GATE", 2, "enrol", "P2", "4482"),
    ("r1-3", "GATE", 3, "remove", "P3", "4493"),
)
PEOPLE_THERE = PEOPLE.rows(
    {"person": f"P{n}", "name": f"P{n}", "number": number} for n, number in ((1, "4471"), (2, "4482"))
)
DONE = [("a", "r1-1", "enrolled", TEN), ("b", "r1-2", "enrolled", TEN + 300), ("c", "r1-3", "removed", TEN + 600)]


def _recorded(*rows):
    return RECORDED.rows(
        {"punch": n, "reader": "GATE", "number": number, "at": TEN + at, "outcome": outcome, "score": score}
        for n, (number, at, outcome, score) in enumerate(rows)
    )


def _found(*punches, said=None):
    states = round_states(ITEMS, said if said is not None else outcomes(*DONE))
    return prove(states, _recorded(*punches), PEOPLE_THERE).select("item", "kind", "other").rows()


def test_the_first_accepted_punch_under_the_number_proves_it() -> None:
    found = _found(("4471", 900, "accepted", 5.0), ("4471", 990, "accepted", 6.0))
    assert found == [("r1-1", "proved", None), ("r1-2", "unproved", None), ("r1-3", "quiet", None)]


def test_a_punch_before_the_enrolment_proves_nothing() -> None:
    assert ("r1-1", "unproved", None) in _found(("4471", -900, "accepted", 5.0))


def test_a_hand_that_was_only_refused_is_told_apart_from_one_that_never_came() -> None:
    assert ("r1-1", "refused_only", None) in _found(("4471", 900, "refused", 40.0))


def test_a_number_nobody_owns_is_the_unproved_persons_it_is_nearest_to() -> None:
    # 4417 swaps two digits of 4471 and shares two with 4482.
    assert ("r1-1", "other_number", "4417") in _found(("4417", 900, "accepted", 5.0))


def test_a_number_like_nobodys_or_like_two_peoples_is_nobodys() -> None:
    assert (None, "other_number", "90210") in _found(("90210", 900, "accepted", 5.0))
    assert (None, "other_number", "4472") in _found(("4472", 900, "accepted", 5.0))  # one slip from 4471, one from 4482


def test_another_number_is_looked_for_within_a_day() -> None:
    assert all(kind != "other_number" for _, kind, _ in _found(("4417", 2 * 86_400, "accepted", 5.0)))


def test_more_than_five_presentations_are_pointed_out() -> None:
    said = outcomes(("a", "r1-1", "enrolled", TEN), presentations=6)
    assert ("r1-1", "many_presentations", None) in _found(said=said)
    said = outcomes(("a", "r1-1", "enrolled", TEN), presentations=5)
    assert ("r1-1", "many_presentations", None) not in _found(said=said)


def test_a_first_score_above_what_is_usual_there_is_pointed_out() -> None:
    # Of the scores 1 to 40 the 95 % quantile is 38 or 39; 39.5 is above it, 30 is not.
    before = [("7", -5000 + n, "accepted", float(n)) for n in range(1, 41)]
    high = _found(*before, ("4471", 900, "accepted", 39.5), ("4482", 900, "accepted", 30.0))
    assert ("r1-1", "high_first_score", None) in high
    assert ("r1-2", "high_first_score", None) not in high
    few = _found(*before[:19], ("4471", 900, "accepted", 39.5))
    assert ("r1-1", "high_first_score", None) not in few


def test_a_punch_under_a_removed_number_afterwards_is_pointed_out() -> None:
    assert ("r1-3", "removed_used", None) in _found(("4493", 900, "accepted", 5.0))
    assert ("r1-3", "quiet", None) in _found(("4493", 100, "accepted", 5.0))


def test_a_round_not_yet_run_proves_nothing() -> None:
    assert _found(("4471", 900, "accepted", 5.0), said=outcomes()) == []
