"""Logs whose moments stand in three columns or more: which columns they are, and what is read of them."""

from datetime import datetime, timedelta

import pytest

from evenhand.layouts import KnownCells, SourceFile, propose, read

from .ways import LANGUAGES, seconds_on_the_wall

ZONES = {"R1": "UTC", "R2": "UTC"}
# How each language calls year, month, day, hour and minute: Unicode CLDR, date fields.
HEADERS = {
    "en": "Year Month Day Hour Minute",
    "es": "Año Mes Día Hora Minuto",
    "de": "Jahr Monat Tag Stunde Minute",
    "fr": "Année Mois Jour Heure Minute",
    "pt": "Ano Mês Dia Hora Minuto",
    "it": "Anno Mese Giorno Ora Minuto",
    "nl": "Jaar Maand Dag Uur Minuut",
    "pl": "Rok Miesiąc Dzień Godzina Minuta",
}
WHENS = [datetime(2026, 9, 7, 5, 50) + timedelta(minutes=397 * n) for n in range(40)]


def taken(header, row, whens=WHENS):
    lines = [header, *(f"R{n % 2 + 1},{1000 + n % 7},{row(when)}" for n, when in enumerate(whens))]
    file = SourceFile("log.csv", "\n".join(lines).encode())
    proposal = propose(file, known=KnownCells(readers=list(ZONES)))
    assert not proposal.questions, proposal.questions
    assert proposal.layout.table == "punches"
    rows = read(file, proposal.layout, zones=ZONES)
    assert rows.rejects.height == 0
    assert rows.frame["at"].to_list() == [seconds_on_the_wall(when) for when in whens]
    return proposal.layout.columns["at"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_year_month_day_hour_and_minute_in_columns_of_their_own(language):
    names = HEADERS[language].split()
    at = taken(
        f"Reader,Badge,{','.join(names)}", lambda when: f"{when.year},{when.month},{when.day},{when.hour},{when:%M}"
    )
    assert at == tuple(names)


def test_parts_in_another_order_with_another_column_between():
    header = "Reader,Badge,Day,Month,Remark,Year,Hour,Minute,Second"
    at = taken(header, lambda when: f"{when.day},{when:%b},late,{when.year},{when.hour},{when.minute},0")
    assert at == ("Day", "Month", "Year", "Hour", "Minute", "Second")


def test_a_date_in_parts_beside_a_whole_time():
    at = taken("Reader,Badge,Year,Month,Day,Time", lambda when: f"{when:%Y,%m,%d,%H:%M}")
    assert at == ("Year", "Month", "Day", "Time")


def test_the_half_of_the_day_in_a_column_of_its_own():
    at = taken("Reader,Badge,Date,Time,AM/PM", lambda when: f"{when:%Y-%m-%d,%I:%M,%p}")
    assert at == ("Date", "Time", "AM/PM")


def test_a_year_is_no_time_of_day():
    # A birthday beside a year: 2026 must not be read as 20:26.
    lines = ["Reader,Badge,Birthday,Year", *(f"R1,{1000 + n},{n % 28 + 1:02}.05.1990,2026" for n in range(30))]
    proposal = propose(SourceFile("f.csv", "\n".join(lines).encode()), known=KnownCells(readers=list(ZONES)))
    assert "at" not in proposal.layout.columns
