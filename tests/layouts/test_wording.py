"""Words of headers: how they are written, what they mean in which language, and what they are nowhere."""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from datetime import timedelta

import pytest
from babel.dates import format_timedelta

from evenhand.layouts.wording.concepts import FIELD_CONCEPTS
from evenhand.layouts.wording.header import concepts_of
from evenhand.layouts.wording.lexicon import index, spoken_in
from evenhand.layouts.wording.phrases import PHRASES
from evenhand.layouts.wording.words import MEANINGS

LANGUAGES = ["en", "es", "de", "fr", "pt", "it", "nl", "pl"]

# Words of one language that name two columns of one table equally well: what the cells hold decides, or is asked.
AMBIGUOUS = {
    *("es:plantilla", "pt:termo", "es:cantidad", "nl:klok", "pt:relogio", "en:cell", "pl:komorka", "pt:lotacao"),
    *("it:officina", "es:taller", "pl:zatrudniona", "pl:zatrudniony", "fr:sal", "en:personnel", "en:staff"),
    *("es:ficha", "pl:identyfikator", "de:kenn number", "de:kennnummer", "de:kennzahl", "nl:nummer", "fr:horod"),
    *("de:uhr", "nl:stat", "en:paid", "pt:vencimento", "es:term", "pt:term", "de:stelle", "pt:instalacao", "pt:local"),
}


def best_of(header: str, *languages: str) -> str:
    found = concepts_of(header, frozenset(languages))
    return max(found, key=lambda one: found[one])


def test_every_meaning_has_sorted_words_in_eight_languages_and_none_of_them_twice():
    for meaning, by_language in MEANINGS.items():
        assert list(by_language) == LANGUAGES, meaning
        for listed in by_language.values():
            words = listed.split(", ")
            assert words == sorted(set(words), key=lambda word: unicodedata.normalize("NFD", word)), meaning


def test_every_meaning_is_part_of_a_phrase_or_changes_little_of_one():
    used = {meaning for phrases in PHRASES.values() for meaning in phrases.replace("|", " ").split()}
    assert MEANINGS.keys() - used == {"whole", "code", "degree"} - used


def test_no_word_names_two_columns_of_one_table_unless_it_is_declared_ambiguous():
    named = defaultdict(set)
    for concept, phrases in PHRASES.items():
        for phrase in phrases.split("|"):
            named[phrase.strip()].add(concept)
    found = set()
    for words, meanings in index().items():
        for language in LANGUAGES:
            meant = {
                one for meaning, spoken in meanings.items() if language in spoken for one in named.get(meaning, ())
            }
            for fields in FIELD_CONCEPTS.values():
                plain = [
                    name for name, field in fields.items() if any(field.concepts.get(one, -9) > -1 for one in meant)
                ]
                if len(plain) > 1:
                    found.add(f"{language}:{' '.join(words)}")
    assert found == AMBIGUOUS


@pytest.mark.parametrize(
    ("header", "concept"),
    [
        ("Prén. us.", "given_name"),  # words that are known together, each cut short
        ("Dt adm", "hired"),
        ("PRIM_NOMBRE", "given_name"),
        ("Kartnr", "keyed_number"),  # a compound cut short
        ("Zutrittsnr.", "keyed_number"),  # its last word written in another way
        ("Buchungsergebnis", "outcome"),
        ("Wkplce", "site"),  # drawn together
        ("dpto.", "department"),
        ("Abteilnug", "department"),  # a slip
        ("Mitarbeiters Nachname", "family_name"),  # inflected
        ("Numeru telefonu", "phone"),
        ("employeeNumber", "person_id"),
        ("Start-Datum", "hired"),
        ("Ważne do", "valid_to"),  # a word that mostly parts others, at an end of them
        ("do godziny", "end"),
        ("Nome do funcionário", "name"),
    ],
)
def test_words_are_known_however_they_are_written(header: str, concept: str):
    assert best_of(header) == concept


def test_a_word_says_less_the_further_it_is_from_one_that_is_known():
    fits = [concepts_of(header)["department"] for header in ("Abteilung", "Abteilungen", "Abteilu", "Abtlng")]
    assert fits == sorted(fits, reverse=True)
    assert fits[0] == 0.0
    assert fits[-1] < -0.5


def test_a_cut_word_that_many_others_begin_with_says_less_than_one_that_few_do():
    assert concepts_of("Pra").get("employee", -9.0) < concepts_of("Pracow")["person"]


def test_a_word_means_what_it_does_in_the_language_of_its_file():
    assert best_of("Note", "it") == "remark"
    assert best_of("Geb. Datum", "de") == "birth"
    assert best_of("Marc.", "es") == "punch"
    assert best_of("Marc.", "it") == "reader"
    assert spoken_in(["Matricola", "Cognome", "Nome", "Reparto"]) == {"it"}
    assert spoken_in(["ID", "Xq"]) == frozenset()


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    ("one", "concept"),
    [
        (timedelta(days=366), "part"),
        (timedelta(days=31), "part"),
        (timedelta(days=1), "date"),
        (timedelta(hours=1), "time"),
        (timedelta(minutes=1), "part"),
    ],
)
def test_the_words_for_day_and_hour_and_their_like_are_those_of_unicode_cldr(
    language: str, one: timedelta, concept: str
):
    """Source: Unicode CLDR, units duration-year, -month, -day, -hour and -minute, as Babel holds them."""
    written = format_timedelta(one, threshold=1, locale=language)
    assert concept in concepts_of(written, frozenset([language])), written


@pytest.mark.parametrize(
    ("name", "concept"),
    [
        # Source: schema.org, type Person
        *[("givenName", "given_name"), ("familyName", "family_name"), ("additionalName", "middle_name")],
        *[("birthDate", "birth"), ("jobTitle", "title"), ("telephone", "phone"), ("email", "mail")],
        *[("gender", "gender"), ("nationality", "locker"), ("worksFor", "company"), ("taxID", "state_number")],
        # Source: RFC 2798 and RFC 4519, inetOrgPerson and what it takes over
        *[("employeeNumber", "person_id"), ("sn", "family_name"), ("cn", "name"), ("displayName", "name")],
        *[("telephoneNumber", "phone"), ("mobile", "phone"), ("mail", "mail"), ("manager", "manager")],
        *[
            ("departmentNumber", "department"),
            ("street", "address"),
            ("postalAddress", "address"),
            ("ou", "department"),
        ],
        # Source: OpenID Connect Core 1.0, section 5.1, standard claims
        *[("given_name", "given_name"), ("family_name", "family_name"), ("middle_name", "middle_name")],
        *[("phone_number", "phone"), ("birthdate", "birth"), ("zoneinfo", "zone"), ("address", "address")],
        # Source: RFC 6350, vCard
        *[("FN", "name"), ("BDAY", "birth"), ("TEL", "phone"), ("ADR", "address"), ("NOTE", "remark"), ("TZ", "zone")],
    ],
)
def test_the_names_of_open_standards_for_persons_are_known(name: str, concept: str):
    assert best_of(name, "en") == concept


@pytest.mark.parametrize(
    "header",
    ["Delivery Date", "Rechnungsnummer", "Poids", "Temperatura", "Invoice No", "Kenteken", "Data dostawy", "Paziente"],
)
def test_what_is_no_word_of_a_workplace_names_no_column_of_any_table(header: str):
    best = best_of(header)
    assert not any(best in field.concepts for fields in FIELD_CONCEPTS.values() for field in fields.values())
