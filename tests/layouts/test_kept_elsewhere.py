"""A kept layout does not win over a table that explains what it leaves out."""

import pytest

from evenhand.layouts import Answers, Proposal, SourceFile, propose
from evenhand.layouts.proposal import KnownCells

KNOWN = KnownCells(
    readers=["GATE", "COVE"],
    numbers=[f"{1001 + at}" for at in range(12)],
    people=[f"P{at:02d}" for at in range(12)],
    names=[f"Ada Quill{chr(97 + at)}" for at in range(12)],
)
ENROLMENTS = "reader,number\n" + "\n".join(f"GATE,{1001 + at}" for at in range(12))
ROSTER = "person,name\n" + "\n".join(f"P{at:02d},Ada Quill{chr(97 + at)}" for at in range(12))


def kept(text: str, table: str) -> dict:
    proposal = propose(SourceFile("kept.csv", text.encode()), Answers(table=table), KNOWN)
    assert (proposal.questions, proposal.layout.table) == ((), table)
    return {"kept.toml": proposal.layout}


def log(header: str, *cells: str) -> str:
    rows = [
        f"GATE,{1001 + at % 12},2026-10-{1 + at // 12:02d}" + "".join(f"{one}" for one in cells).format(6 + at % 12)
        for at in range(96)
    ]
    return header + "\n" + "\n".join(rows)


def of(text: str, said: Answers | None = None, **layouts: object) -> Proposal:
    return propose(SourceFile("other.csv", text.encode()), said or Answers(), KNOWN, **layouts)


LOGS = [
    log("reader,number,at,direction", " {:02d}:05:00", ",in"),
    log("reader,number,at", "T{:02d}:05:00"),
    log("reader,number,date,time", ",{:02d}:05"),
]


@pytest.mark.parametrize("text", LOGS)
def test_a_log_is_not_read_by_a_kept_list_of_enrolments_that_leaves_its_times_out(text: str) -> None:
    proposal = of(text, kept=kept(ENROLMENTS, "enrolments"))
    assert (proposal.layout.table, proposal.kept, proposal.questions) == ("punches", "", ())
    assert "leaves out its times" in " ".join(proposal.notices)


@pytest.mark.parametrize("text", LOGS)
def test_who_names_the_layout_or_the_table_is_followed(text: str) -> None:
    layouts = kept(ENROLMENTS, "enrolments")
    assert of(text, Answers(layout="kept.toml"), kept=layouts).kept == "kept.toml"
    assert of(text, Answers(table="enrolments"), kept=layouts).kept == "kept.toml"


def test_a_log_of_one_person_and_an_unknown_number_is_a_log() -> None:
    text = "reader,number,at,direction\nGATE,1001,2026-10-05 06:00:00,in\nGATE,7777,2026-10-05 14:00:00,out\n"
    proposal = of(text, kept=kept(ENROLMENTS, "enrolments"))
    assert proposal.layout.table == "punches"


def test_columns_that_plainly_are_another_table_s_are_asked_about() -> None:
    text = "person,name,signed on,form,withdrawn on\n" + "\n".join(
        f"P{at:02d},Ada Quill{chr(97 + at)},2026-03-{1 + at:02d},F-2,{'2026-08-09' if at == 3 else ''}"
        for at in range(12)
    )
    (question,) = of(text, kept=kept(ROSTER, "people")).questions
    assert (question.about, [one.answer for one in question.choices]) == ("table", ["people", "consent"])
    assert of(text, Answers(table="consent"), kept=kept(ROSTER, "people")).layout.table == "consent"
    assert of(text, Answers(table="people"), kept=kept(ROSTER, "people")).kept == "kept.toml"


def test_a_longer_list_of_the_same_table_is_read_by_the_kept_layout() -> None:
    text = "reader,number,name\n" + "\n".join(f"GATE,{1001 + at},Ada Quill{chr(97 + at)}" for at in range(12))
    proposal = of(text, kept=kept(ENROLMENTS, "enrolments"))
    assert (proposal.kept, proposal.questions) == ("kept.toml", ())
