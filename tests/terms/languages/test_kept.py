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

    assert say_in("es").retold(filled(english, given, as_given)) == filled(KEPT[english], given, as_given)


def test_a_holiday_stays_as_its_calendar_calls_it() -> None:
    said = say_in("es").retold("carries the differential nights: Thanksgiving Day")
    assert said == "con el complemento nights: Thanksgiving Day"
