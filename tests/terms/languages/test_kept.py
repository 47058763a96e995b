"""What rooms say in English and tables keep so is told again, whichever other patterns would fit it."""

from __future__ import annotations

from string import Formatter

import pytest

from evenhand.jobs.languages import say_in, words_said
from evenhand.terms.languages import filled

KEPT = {english: spanish for english, spanish in words_said("kept")["es"].items() if "|" not in english}
"""Without the few in which a count stands, whose figures are worded."""


@pytest.mark.parametrize("english", KEPT)
def test_every_sentence_that_is_kept_is_told_again_by_its_own_pattern(english: str) -> None:
    named = {name: spec for _, name, spec, _ in Formatter().parse(english) if name is not None}
    # figures and days are looked for as such
    given = {
        name: "417" if spec == "," else "2026-03-04" if name.endswith("_on") else f"<{name}>"
        for name, spec in named.items()
    }

    def as_given(value: object, spec: str) -> str:
        return str(value)

    def as_told(value: object, spec: str) -> str:
        return "mié 4 mar 2026" if value == "2026-03-04" else str(value)

    assert say_in("es").retold(filled(english, given, as_given)) == filled(KEPT[english], given, as_told)


@pytest.mark.parametrize(
    ("english", "spanish"),
    [
        ("2026-03-04", "mié 4 mar 2026"),
        ("Wed 4 Mar 2026, 06:53", "mié 4 mar 2026, 06:53"),
        ("agreed on 2026-03-04", "aceptó el mié 4 mar 2026"),
        ("7 h 05 of rest from Wed 4 Mar 2026, 23:55; 3 h 55 short", "7 h 05 de descanso desde mié 4 mar 2026, 23:55"),
    ],
)
def test_days_and_moments_that_were_kept_are_told_in_words(english: str, spanish: str) -> None:
    assert say_in("es").retold(english).startswith(spanish)


def test_a_day_kept_in_figures_is_told_in_words_in_english_too_but_not_what_is_typed_or_named_by_it() -> None:
    assert say_in("en").retold("agreed on 2026-03-04; see") == "agreed on Wed 4 Mar 2026; see"
    for named in (
        "`evenhand hours why P3 2026-03-04`",
        "hours-2026-03-01.csv",
        "missing_punch/P3/2026-03-04",
        "2026-13-41",
    ):
        assert say_in("en").retold(f"see {named}") == f"see {named}"


def test_a_holiday_stays_as_its_calendar_calls_it() -> None:
    said = say_in("es").retold("carries the differential nights: Thanksgiving Day")
    assert said == "con el complemento nights: Thanksgiving Day"
