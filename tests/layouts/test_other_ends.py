"""The end of probation, of a badge or of a contract that goes on is no day of leaving. Common practice, no source."""

from datetime import date

import pytest

from evenhand.layouts import Answers, Proposal, SourceFile, propose
from evenhand.layouts.proposal import KnownCells

GIVEN = ("Ida Renn", "Rui Okoro", "Lena Fisk", "Ana Weir", "Jo Dorn", "Mia Castell", "Otto Ashby", "Tomas Marlow")


def roster(header: str, ends: dict[int, str] | None = None, **said: object) -> Proposal:
    """Return what is proposed of a list of eight people, who have an end each, or those of `ends` by their row."""
    rows = [
        f"P{310 + 7 * at},{name},{4_107 + 31 * at},2024-0{1 + at}-15,"
        f"{f'2025-0{1 + at}-14' if ends is None else ends.get(at, '')}"
        for at, name in enumerate(GIVEN)
    ]
    text = "\n".join([f"Employee,Name,PIN,Start,{header}", *rows, ""])
    known = KnownCells(today=date(2026, 11, 27))
    return propose(SourceFile("staff.csv", text.encode()), Answers(table="people", **said), known)


def is_open_or_unused(proposal: Proposal, header: str) -> bool:
    is_used = "left_on" in proposal.layout.columns
    return not is_used or header in [one.subject for one in proposal.questions]


@pytest.mark.parametrize(
    "header",
    [
        *("End of probation", "Probation end date", "Badge end date", "End of trial", "Badge expiry", "Next review"),
        *("Fin de periodo de prueba", "Vencimiento tarjeta", "Probezeitende", "Ende Probezeit", "Ausweis gültig bis"),
        *("Fin de période d'essai", "Carte valable jusqu'au", "Fim do período de experiência", "Validade do crachá"),
        *("Fine periodo di prova", "Scadenza tessera", "Einde proeftijd", "Pas geldig tot", "Koniec okresu próbnego"),
        *("Karta ważna do", "Contract end", "Vertragsende", "Fin de contrato", "umowa do", "Einde contract"),
    ],
)
def test_an_end_of_something_else_is_asked_about_or_not_used(header: str) -> None:
    assert is_open_or_unused(roster(header), header)


def test_the_question_is_answered_by_either_choice() -> None:
    (question,) = roster("End of probation").questions
    assert [one.answer for one in question.choices] == ["left_on", "none"]
    told = roster("End of probation", maps={"End of probation": "left_on"})
    assert not told.questions and told.layout.columns["left_on"] == ("End of probation",)
    assert "left_on" not in roster("End of probation", ignored=("End of probation",)).layout.columns


@pytest.mark.parametrize("header", ["Last day", "Leaving date", "Austritt", "Contract end", "Vertragsende"])
def test_a_few_days_of_leaving_are_read_also_as_ends_of_contracts(header: str) -> None:
    proposal = roster(header, {2: "2025-03-14", 5: "2025-06-30"})
    assert not proposal.questions and proposal.layout.columns["left_on"] == (header,)


def test_a_contract_whose_end_is_to_come_is_asked_about() -> None:
    assert roster("Contract end", {2: "2025-03-14", 5: "2027-03-31"}).questions
