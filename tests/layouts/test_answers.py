"""Answers to what a file leaves open, one after another."""

from __future__ import annotations

import pytest

from evenhand.layouts import Answers, Choice, KnownCells, Question, SourceFile, answered, propose, read
from evenhand.terms.records import Refusal

DATES = Question("dates", "Is it?", (Choice("dmy", "3 April"), Choice("mdy", "4 March")))


def test_an_answer_is_added_to_what_was_said_before() -> None:
    said = answered(Answers(table="people", maps={"Nr": "number"}), DATES, " DMY ")
    assert said == Answers(table="people", maps={"Nr": "number"}, dates="dmy")


def test_what_is_no_choice_is_no_answer() -> None:
    with pytest.raises(Refusal, match=r'"ymd" is no answer to this; give one of dmy, mdy\.'):
        answered(Answers(), DATES, "ymd")


def test_a_zone_may_be_another_than_those_suggested_and_a_reader_may_not() -> None:
    where = Question("zone", "Where?", (Choice("Europe/Berlin", "Berlin's"),))
    assert answered(Answers(), where, "Europe/Paris").zone == "Europe/Paris"
    with pytest.raises(Refusal, match="no answer"):
        answered(Answers(), where, "  ")
    whose = Question("reader", "Whose?", (Choice("GATE", "GATE's"),))
    assert answered(Answers(), whose, "gate").reader == "GATE"
    with pytest.raises(Refusal, match="give one of GATE"):
        answered(Answers(), whose, "DOCK")
    assert answered(Answers(), Question("reader", "Whose?", ()), "DOCK").reader == "DOCK"


def test_zeros_are_a_number_of_digits() -> None:
    zeros = Question("zeros", "How many?", (Choice("4", "0369"), Choice("0", "369")))
    assert answered(Answers(), zeros, "5").zeros == 5
    assert answered(Answers(), zeros, "0").zeros == 0
    with pytest.raises(Refusal, match="no answer"):
        answered(Answers(), zeros, "four")


def test_a_column_of_the_file_is_a_declared_one_or_none() -> None:
    column = Question("column", "What is it?", (Choice("number", ""), Choice("person", ""), Choice("none", "")), "Nr")
    assert answered(Answers(ignored=frozenset({"Nr"})), column, "person") == Answers(maps={"Nr": "person"})
    assert answered(Answers(maps={"Nr": "number"}), column, "none") == Answers(ignored=frozenset({"Nr"}))


def test_a_declared_column_is_one_of_the_file() -> None:
    field = Question("field", "Which is it?", (Choice("Nr", ""), Choice("3", "")), "number")
    assert answered(Answers(), field, "3") == Answers(maps={"3": "number"})


def test_a_layout_does_not_choose_between_two_columns_of_one_name() -> None:
    once = "Reader,Badge,When,Way\nGATE,0041,2026-10-05 08:00:10,in\nGATE,0041,2026-10-05 16:00:40,out\n"
    twice = (
        "Reader,Badge,When,When,Way\nGATE,0041,2026-11-05 08:00:10,2026-11-05 05:00:10,in\n"
        "GATE,0041,2026-11-05 16:00:40,2026-11-05 13:00:40,out\n"
    )
    known = KnownCells(readers=["GATE"])
    layout = propose(SourceFile("october.csv", once.encode()), known=known).layout
    file = SourceFile("november.csv", twice.encode())
    proposal = propose(file, known=known, kept={"punches-1.toml": layout})
    assert not proposal.kept
    assert proposal.questions
    assert any("more than one is called 'When'" in notice for notice in proposal.notices)
    with pytest.raises(Refusal, match=r"2 columns are called 'When'.*3 or 4"):
        read(file, layout, zones={"GATE": "America/Chicago"})


def test_a_column_that_a_kept_layout_leaves_out_is_used_where_that_is_said() -> None:
    text = "Reader,Badge,When,Worth\n" + "".join(f"GATE,0041,2026-10-{at:02d} 08:00:10,{at}\n" for at in range(10, 30))
    file, known = SourceFile("october.csv", text.encode()), KnownCells(readers=["GATE"])
    left_out = propose(file, Answers(ignored=frozenset({"Worth"})), known).layout
    assert left_out.ignored == ("Worth",)
    layout = propose(file, Answers(maps={"Worth": "score"}), known, kept={"punches-1.toml": left_out}).layout
    assert (layout.columns["score"], layout.ignored) == (("Worth",), ())
