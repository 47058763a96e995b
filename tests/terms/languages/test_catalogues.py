"""The catalogues hold every sentence that is said, in every language, and nothing else."""

from __future__ import annotations

import re
from datetime import date
from string import Formatter

import pytest
from tests.said_in_code import said_in_code

from evenhand.enrolment.written import clock_in, day_in
from evenhand.jobs.languages import say_in, words_said
from evenhand.terms.languages import LANGUAGES, NAMES, is_bare, language_among, read_words
from evenhand.terms.languages.telling import AMOUNTS, APART, BETWEEN, WHOLE
from evenhand.terms.languages.writing import ROWS

ALIKE = {
    # a command, which is typed as it is
    "`evenhand takes again {take} --zone {zone} --author NAME --reason WHY`",
    # words that both languages write alike
    "{count:# byte|# bytes}",
    "no",
    "plan",
    "Error: {says:again}",
    "SHA-256",
    "SHA-256 {digest}",
    "Bits",
    "Alaska",
    "California",
    "Colorado",
    "Nevada",
}
HEAD = 'msgid ""\nmsgstr "Plural-Forms: nplurals=2; plural=(n != 1);\n"\n\n'


def test_every_sentence_said_is_in_a_catalogue_and_every_one_in_them_is_said() -> None:
    spanish = words_said()["es"]
    # what says nothing by itself needs no other language
    said = {pattern for pattern in said_in_code() if pattern in spanish or not is_bare(pattern)}
    assert said == set(spanish)


@pytest.mark.parametrize("language", LANGUAGES)
def test_each_language_says_everything(language: str) -> None:
    assert all(words_said()[language].values())
    assert language in NAMES


def test_the_same_things_stand_in_a_sentence_in_both_languages() -> None:
    def within(pattern: str) -> list[str]:
        # what a count decides is worded in each language: only that it does stands in both
        named = ((name, spec or "") for _, name, spec, _ in Formatter().parse(pattern) if name is not None)
        return sorted({f"{name}:{'|' if '|' in spec else spec}" for name, spec in named})

    spoken = words_said()["es"].items()
    assert [english for english, spanish in spoken if within(english) != within(spanish)] == []


def test_a_sentence_names_the_same_commands_in_both_languages() -> None:
    # a page puts its own name in place of each: a language that names the page itself tells commands of pages
    def commands(text: str) -> list[str]:
        return sorted(re.findall(r"`evenhand [^`]*`", text))

    spoken = words_said()["es"].items()
    assert [english for english, spanish in spoken if commands(english) != commands(spanish)] == []


def test_spanish_is_not_english_left_standing() -> None:
    assert {english for english, spanish in words_said()["es"].items() if english == spanish} == ALIKE
    assert say_in("es")("Did not come") == "No vino"
    assert say_in("en")("Did not come") == "Did not come"


def test_a_language_without_a_catalogue_and_a_sentence_not_in_it_are_no_silent_english() -> None:
    with pytest.raises(KeyError):
        read_words({})
    with pytest.raises(KeyError, match="not translated: Did not come"):
        read_words({"es": [HEAD + 'msgid "Did not come"\nmsgstr ""\n']})
    with pytest.raises(KeyError, match="not translated: 1 day"):
        read_words({"es": [HEAD + 'msgid "1 day"\nmsgid_plural "{count} days"\nmsgstr[0] "1 día"\nmsgstr[1] ""\n']})
    with pytest.raises(KeyError):
        say_in("es")("Something nobody translated")


def test_two_catalogues_do_not_say_one_thing_in_two_ways_and_plurals_are_those_that_are_known() -> None:
    reader, device = (HEAD + f'msgid "reader"\nmsgstr "{word}"\n' for word in ("lector", "aparato"))
    with pytest.raises(ValueError, match="said in two ways"):
        read_words({"es": [reader, device]})
    with pytest.raises(ValueError, match="plurals"):
        read_words({"es": [reader.replace("n != 1", "n > 1")]})


def test_days_are_written_as_the_language_writes_them() -> None:
    # Unicode CLDR's full date formats: EEEE, MMMM d, y and EEEE, d 'de' MMMM 'de' y.
    assert day_in("en", date(2026, 3, 9)) == "Monday, March 9, 2026"
    assert day_in("es", date(2026, 3, 9)) == "lunes, 9 de marzo de 2026"


def test_times_are_the_readers_own() -> None:
    assert clock_in("America/Chicago", 1_773_064_800) == "09:00"  # 14:00 UTC, and Chicago is at -5 since the day before
    assert clock_in("UTC", None) == ""


@pytest.mark.parametrize(
    ("header", "language"),
    [
        # RFC 9110, section 12.5.4: languages with weights, of which the highest is preferred and 0 is not accepted.
        ("es-MX,es;q=0.9,en;q=0.5", "es"),
        ("da, en-gb;q=0.8, en;q=0.7", "en"),
        ("en;q=0.2, es;q=0.8", "es"),
        ("es;q=0, en;q=0.1", "en"),
        ("fr-CH, *;q=0.5", None),
        ("es;q=much", None),
        ("", None),
    ],
)
def test_the_browser_says_which_language_it_wants(header: str, language: str | None) -> None:
    assert language_among(header) == language


def test_every_way_of_writing_that_a_sentence_asks_for_is_known() -> None:
    spanish = say_in("es")
    known = {*spanish.days, *spanish.moments, *WHOLE, *AMOUNTS, *BETWEEN, *APART, *ROWS, "pay", "ago", "again", ","}
    specs = {spec for said in words_said()["es"] for *_, spec, _ in Formatter().parse(said) if spec and "|" not in spec}
    assert {one for one in specs - known if not re.fullmatch(r"listed(?: \d+)?|\+?0?\.?\d*,?[dfg%]?", one)} == set()
