"""Removals leave every reader a supervisor who stays."""

from __future__ import annotations

from polars import DataFrame, lit

from evenhand import reconcile
from evenhand.records.retention import REMOVALS
from evenhand.terms.sources import ENROLMENTS

LISTED = ENROLMENTS.rows(
    {"reader": reader, "number": number, "is_supervisor": number in supervisors}
    for reader, supervisors in (("GATE", "13"), ("DOCK", "1"), ("YARD", "124"))
    for number in "1234"
)


def due(*hands: tuple[str, str]) -> DataFrame:
    rows = REMOVALS.rows({"person": f"P{number}", "reader": reader, "number": number} for reader, number in hands)
    return rows.with_columns(name=lit("Somebody"), why=lit("due"))


def taken_off(*hands: tuple[str, str]) -> list[tuple[str, str]]:
    steps = reconcile.removal_steps(LISTED, due(*hands))
    assert set(steps["action"]) <= {"remove"}
    return steps.select("reader", "number").rows()


def test_a_supervisor_whose_hand_is_due_goes_while_another_stays() -> None:
    assert taken_off(("YARD", "1"), ("YARD", "3")) == [("YARD", "1"), ("YARD", "3")]
    assert taken_off(("GATE", "1"), ("GATE", "2")) == [("GATE", "1"), ("GATE", "2")]


def test_the_last_supervisor_stays_until_there_is_another() -> None:
    assert taken_off(("DOCK", "1"), ("DOCK", "2")) == [("DOCK", "2")]


def test_of_two_supervisors_who_are_both_due_none_goes_while_the_other_cannot_come() -> None:
    assert taken_off(("GATE", "1"), ("GATE", "3"), ("GATE", "2")) == [("GATE", "2")]


def test_a_hand_that_is_not_listed_is_no_step() -> None:
    assert taken_off(("GATE", "9")) == []
