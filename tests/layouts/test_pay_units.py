"""An amount that may be a salary, a percentage or a sum is no rate of an hour before somebody says so.

Source: common practice, no source.
"""

import pytest

from evenhand.layouts import Answers, Proposal, SourceFile, propose
from evenhand.layouts.proposal import KnownCells

HOURS = ("24.50", "31.75", "28.00", "26.25", "40.10", "22.80", "25.35", "37.20")
MONTHS = ("3000.50", "3111.50", "4222.75", "3333.25", "2890.50", "3456.10", "5010.20", "3700.90")


def rates(header: str, amounts: tuple[str, ...] = HOURS, more: str = "", said: Answers | None = None) -> Proposal:
    title, cell = more.split("=") if more else ("", "")
    rows = [f"P{210 + at},2026-07-01,{amount}{cell and ',' + cell}" for at, amount in enumerate(amounts)]
    text = "\n".join([f"employee,valid from,{header}{title and ',' + title}", *rows, ""])
    return propose(SourceFile("rates.csv", text.encode()), said or Answers(table="rates"), KnownCells())


def asked(proposal: Proposal) -> list[str]:
    return [one.subject for one in proposal.questions]


@pytest.mark.parametrize(
    "header",
    [
        *("weekly rate", "monthly pay", "rate per month", "annual rate", "increase %", "rate increase", "rate %"),
        *("Monatslohn", "Wochenlohn", "Erhöhung", "tarifa mensual", "aumento", "taux mensuel", "augmentation"),
        *("valor mensal", "paga mensile", "aumento %", "maandloon", "verhoging", "stawka miesięczna", "podwyżka"),
    ],
)
def test_a_header_of_a_longer_time_or_of_a_change_is_asked_about(header: str) -> None:
    assert asked(rates(header, said=Answers(table="rates"))) in ([header], ["amount"])
    assert asked(rates(header, said=Answers(table="rates", maps={header: "amount"}))) == []


@pytest.mark.parametrize("header", ["hourly rate", "rate", "rate per hour", "Stundenlohn", "taux horaire", "uurloon"])
def test_rates_of_an_hour_are_read_and_high_ones_asked_about(header: str) -> None:
    assert asked(rates(header)) == []
    assert asked(rates(header, MONTHS)) == [header]


def test_a_column_that_says_for_how_long_a_salary_is_answers_it() -> None:
    assert asked(rates("amount", MONTHS, "pay period=month")) == []


def test_a_roster_of_monthly_salaries_is_asked_about() -> None:
    rows = [f"P{210 + at};Ida Renn{'abcdefgh'[at]};{4100 + at};{pay}" for at, pay in enumerate(MONTHS)]
    text = "\n".join(["Matrícula;Nome;Crachá;Salário", *rows, ""]).replace(".", ",")
    file = SourceFile("pessoal.csv", text.encode())
    (question,) = propose(file, Answers(table="people"), KnownCells()).questions
    assert (question.subject, [one.answer for one in question.choices]) == ("Salário", ["hourly_rate", "none"])
