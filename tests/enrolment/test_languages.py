"""One catalogue holds every sentence of the round, and nothing else."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from babel.messages.extract import extract_from_file

import evenhand
from evenhand.enrolment.languages import NAMES, clock_in, day_in, read_words
from evenhand.jobs.round_files import round_words, say_in
from evenhand.terms.rounds import LANGUAGES

SOURCE = Path(evenhand.__file__).parent
HELD = (SOURCE / "enrolment", SOURCE / "jobs", SOURCE / "web" / "pages" / "rounds", SOURCE / "web" / "static")


def _said() -> set[str]:
    found: set[str] = set()
    for folder in HELD:
        for path in folder.rglob("*.py"):
            found |= {
                str(message)
                for _, message, _, _ in extract_from_file("python", path, keywords={"say": None, "sentence": None})
            }
        for path in (*folder.rglob("*.typ"), *folder.rglob("*.html"), *folder.rglob("*.js")):
            found |= set(re.findall(r'\b(?:say|tell|sentence)\("([^"]+)"\)', path.read_text(encoding="utf-8")))
    return found


def test_every_sentence_said_is_in_the_catalogue_and_every_one_in_it_is_said() -> None:
    assert _said() == set(round_words()["es"])


@pytest.mark.parametrize("language", LANGUAGES)
def test_each_language_says_everything(language: str) -> None:
    assert all(round_words()[language].values())
    assert language in NAMES


def test_spanish_is_not_english_left_standing() -> None:
    assert [english for english, spanish in round_words()["es"].items() if english == spanish] == []
    assert say_in("es")("Did not come") == "No vino"
    assert say_in("en")("Did not come") == "Did not come"


def test_a_language_without_a_catalogue_and_a_sentence_not_in_it_are_no_silent_english() -> None:
    with pytest.raises(KeyError):
        read_words({})
    with pytest.raises(KeyError, match="not translated: Did not come"):
        read_words({"es": 'msgid "Did not come"\nmsgstr ""\n'})
    with pytest.raises(KeyError):
        say_in("es")("Something nobody translated")


def test_days_are_written_as_the_language_writes_them() -> None:
    # Unicode CLDR's full date formats: EEEE, MMMM d, y and EEEE, d 'de' MMMM 'de' y.
    assert day_in("en", date(2026, 3, 9)) == "Monday, March 9, 2026"
    assert day_in("es", date(2026, 3, 9)) == "lunes, 9 de marzo de 2026"


def test_times_are_the_readers_own() -> None:
    assert clock_in("America/Chicago", 1_773_064_800) == "09:00"  # 14:00 UTC, and Chicago is at -5 since the day before
    assert clock_in("UTC", None) == ""
