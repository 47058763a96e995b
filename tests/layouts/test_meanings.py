"""Words of a file that are known in no language are asked for, one by one, and remembered in the layout."""

import pytest

from evenhand.layouts import Answers, SourceFile, propose, read
from evenhand.layouts.proposal import NO_COLUMN, KnownCells, answered
from evenhand.terms.records import Refusal

KNOWN = KnownCells(readers=["Gate"], numbers=[f"{4100 + at}" for at in range(20)])


def log(*ways: str, outcome: str = "") -> SourceFile:
    rows = [
        f"Gate;{4100 + at % 20};2026-10-{1 + at // 20:02d} {6 + at % 12:02d}:15:0{at % 10};{ways[at % len(ways)]}"
        for at in range(200)
    ]
    return SourceFile("gate.csv", ("Reader;Badge;Time;Direction\n" + "\n".join(rows)).encode())


def test_unknown_words_are_asked_one_by_one_and_the_answers_are_kept_in_the_layout():
    file = log("tuhle", "tamhle")
    proposal = propose(file, known=KNOWN)
    assert [(one.about, one.subject) for one in proposal.questions] == [("words", "tuhle"), ("words", "tamhle")]
    assert [one.answer for one in proposal.questions[0].choices] == ["in", "out", NO_COLUMN]
    assert "100 times" in proposal.questions[0].asks
    said = answered(answered(Answers(), proposal.questions[0], "in"), proposal.questions[1], "out")
    after = propose(file, said, KNOWN)
    assert (after.questions, after.layout.words) == ((), {"direction": {"tuhle": "in", "tamhle": "out"}})
    rows = read(file, after.layout, zones={"Gate": "UTC"})
    assert rows.frame["direction"].to_list() == ["in", "out"] * 100
    assert propose(file, known=KNOWN, kept={"gate": after.layout}).questions == ()


def test_a_mark_without_letters_is_asked_for_too():
    proposal = propose(log("+", "-"), Answers(maps={"Direction": "direction"}), KNOWN)
    assert [one.subject for one in proposal.questions] == ["+", "-"]


def test_a_letter_beside_an_unknown_one_is_asked_for_too():
    # B and E as in Beginn and Ende: E alone would be an Entrada.
    proposal = propose(log("B", "E"), Answers(maps={"Direction": "direction"}), KNOWN)
    assert [one.subject for one in proposal.questions] == ["B", "E"]
    assert propose(log("E", "S"), Answers(maps={"Direction": "direction"}), KNOWN).questions == ()


def test_a_word_that_says_nothing_leaves_the_cell_empty():
    file = log("in", "out", "brk", "in", "out")
    (question,) = propose(file, known=KNOWN).questions
    after = propose(file, answered(Answers(), question, NO_COLUMN), KNOWN)
    assert after.questions == ()
    rows = read(file, after.layout, zones={"Gate": "UTC"})
    assert (rows.rejects.height, rows.frame["direction"].null_count()) == (0, 40)


def test_a_word_met_seldom_is_a_mistake_and_its_row_is_refused():
    file = log(*["in", "out"] * 49, "sideways", "out")
    proposal = propose(file, known=KNOWN)
    assert proposal.questions == ()
    assert read(file, proposal.layout, zones={"Gate": "UTC"}).rejects.height == 2


def test_an_answer_about_a_word_that_is_nowhere_is_refused():
    with pytest.raises(Refusal, match="'blau'"):
        propose(log("in", "out"), Answers(words={"blau": "in"}), KNOWN)


def enrolments(header: str, *levels: str) -> SourceFile:
    rows = [f"Gate,{4100 + at},{levels[at % len(levels)]}" for at in range(14)]
    return SourceFile("enrolments.csv", (f"reader,number,{header}\n" + "\n".join(rows)).encode())


@pytest.mark.parametrize("header", ["level", "Stufe", "nivel", "niveau", "nível", "livello", "poziom", "supervisor"])
@pytest.mark.parametrize("levels", [("0", "1", "5"), ("1", "2"), ("0", "1", "2", "3")])
def test_zero_and_one_among_other_levels_are_asked_about(header, levels):
    said = Answers(table="enrolments", maps={header: "is_supervisor"})
    asked = propose(enrolments(header, *levels), said, KNOWN).questions
    assert [(one.about, one.subject) for one in asked] == [("words", level) for level in levels]


def test_one_five_among_many_a_zero_and_one_of_levels_is_asked_about_and_is_a_mistake_elsewhere():
    levels = ("5", *("0", "1") * 6, "0")
    for header, subjects in (("level", ["5", "0", "1"]), ("supervisor", [])):
        said = Answers(table="enrolments", maps={header: "is_supervisor"})
        asked = propose(enrolments(header, *levels), said, KNOWN).questions
        assert [one.subject for one in asked] == subjects


def test_zero_and_one_alone_are_no_and_yes():
    said = Answers(table="enrolments", maps={"level": "is_supervisor"})
    assert propose(enrolments("level", "0", "1"), said, KNOWN).questions == ()
