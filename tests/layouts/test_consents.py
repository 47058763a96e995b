"""Every row of a list of consents is one that was given: a column that may say no is asked about."""

from dataclasses import replace

import pytest

from evenhand.layouts import Answers, Proposal, SourceFile, propose
from evenhand.layouts.proposal import NO_COLUMN, KnownCells

KNOWN = KnownCells(people=[f"W{101 + 7 * at}" for at in range(14)])
CONSENT = Answers(table="consent", maps={"person": "person", "given": "given_on"})


def consents(header: str, *words: str, said: Answers = CONSENT, **kept: object) -> Proposal:
    rows = [f"W{101 + 7 * at};2026-03-{1 + at:02d};{words[at % len(words)]}" for at in range(14)]
    file = SourceFile("consents.csv", (f"person;given;{header}\n" + "\n".join(rows)).encode())
    return propose(file, said, KNOWN, **kept)


REFUSING = [
    *(("consent", "no", "yes"), ("Consentimiento", "no", "sí"), ("Einwilligung erteilt", "nein", "ja")),
    *(
        ("Accord", "non", "oui"),
        ("Consentimento", "não", "sim"),
        ("Consenso", "no", "sì"),
        ("Toestemming", "nee", "ja"),
    ),
    *(("Zgoda", "nie", "tak"), ("agreed", "", "x"), ("Decision", "declined", "granted"), ("Zustimmung", "N", "J")),
    *(("withdrawn", "yes", "no"), ("odwołana", "tak", "nie"), ("blorp", "0", "1")),
]


@pytest.mark.parametrize(("header", "no", "yes"), REFUSING)
def test_a_column_that_may_say_no_of_a_consent_is_asked_about(header: str, no: str, yes: str) -> None:
    asked = consents(header, yes, no, yes).questions
    assert [(one.about, one.subject) for one in asked] == [("column", header)]
    assert [one.answer for one in asked[0].choices] == [NO_COLUMN]


def test_who_says_that_it_is_nothing_is_followed_and_the_layout_keeps_it() -> None:
    said = replace(CONSENT, ignored=("Zgoda",))
    proposal = consents("Zgoda", "tak", "nie", said=said)
    assert (proposal.questions, proposal.layout.ignored) == ((), ("Zgoda",))
    assert consents("Zgoda", "tak", "nie", said=Answers(), kept={"kept": proposal.layout}).questions == ()


def test_a_kept_layout_that_leaves_such_a_column_out_does_not_pass_over_it() -> None:
    layout = consents("Zgoda", "tak").layout
    asked = consents("Zgoda", "tak", "nie", said=Answers(), kept={"kept": layout}).questions
    assert [one.subject for one in asked] == ["Zgoda"]


@pytest.mark.parametrize("words", [("yes",), ("tak",)])
def test_a_yes_in_every_row_leaves_nothing_to_ask(words: tuple[str, ...]) -> None:
    assert consents("Zgoda", *words).questions == ()
