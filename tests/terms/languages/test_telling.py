"""A sentence is English to whoever asks for no more, and is told in its reader's language."""

from __future__ import annotations

import copy
import pickle
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from babel.dates import format_date

from evenhand.terms.languages import ENGLISH, DaySpan, Moment, Sentence, Speech, in_a_row, said_of, told
from evenhand.terms.records import Refusal

WORDS = {
    "{name} went {way} on {day}": "{name}: {way} el {day}",
    "in": "entrada",
    "as said: {what}": "según se dijo: {what}",
    "{count:,} days in {time:duration}": "{count:,} días en {time:duration}",
}
KEPT = {
    "the start at {was} counts as {now}": "el inicio de las {was} cuenta como {now}",
    "{kind} is missing": "falta {kind}",
    "the gate is {state}": "la puerta está {state}",
    "the end": "el final",
}
SPANISH = Speech("es", WORDS, KEPT)
DAY = date(2026, 3, 4)


def test_a_sentence_is_plain_english_and_is_told_in_another_language_with_all_that_stands_in_it() -> None:
    said = told("{name} went {way} on {day}", name="Ana {x}", way=told("in"), day=DAY)
    assert said == "Ana {x} went in on Wed 4 Mar 2026"
    assert SPANISH.written(said) == "Ana {x}: entrada el mié 4 mar 2026"
    within = told("as said: {what}", what=said)
    assert within == f"as said: {said}"
    assert SPANISH.said(within) == "según se dijo: Ana {x}: entrada el mié 4 mar 2026"


def test_a_sentence_is_copied_whole() -> None:
    said = told("in")
    for again in (copy.deepcopy(said), pickle.loads(pickle.dumps(said))):
        assert isinstance(again, Sentence)
        assert (again, again.pattern) == ("in", "in")


def test_a_refusal_keeps_what_it_says() -> None:
    said = told("in")
    assert SPANISH.said(said_of(Refusal(said))) == "entrada"
    assert said_of(Refusal("plain")) == "plain"
    assert str(Refusal(said)) == "in"


def test_what_the_catalogue_lacks_is_not_said() -> None:
    assert SPANISH.can_say(told("as said: {what}", what=told("in")))
    assert not SPANISH.can_say(told("as said: {what}", what=told("out")))
    assert not SPANISH.can_say("plain")
    assert ENGLISH.can_say("plain")
    with pytest.raises(KeyError):
        SPANISH("out")
    with pytest.raises(KeyError):
        told("{name} went {way} on {day}", name="Ana")


def test_what_was_kept_in_english_is_told_again_by_the_one_pattern_that_made_it() -> None:
    assert SPANISH.retold("the start at 06:53 counts as 07:00") == "el inicio de las 06:53 cuenta como 07:00"
    assert SPANISH.retold("the end is missing") == "falta el final"
    assert SPANISH.retold("the gate is missing") == "the gate is missing"  # two would fit
    assert SPANISH.retold("in") == "in"  # a word of pages is none that was kept
    assert ENGLISH.retold("the end is missing") == "the end is missing"


def test_a_count_decides_the_words_and_rows_moments_and_shares_are_written_as_the_language_does() -> None:
    counted = "{count:# punch is|# punches are} of {whose:listed 2}"
    spoken = {
        counted: "{count:# marcación es|# marcaciones son} de {whose:listed 2}",
        "{share:.0%} by {at}, {then:clock}": "{share:.0%} a las {then:clock}, {at}",
        "{amount:pay} {when:ago}": "{amount:pay} {when:ago}",
        "not known": "no se sabe",
        "none": "ninguno",
        "{rough} ago": "hace {rough}",
        "in {rough}": "dentro de {rough}",
        "days": "días",
        "in": "entrada",
    }
    spanish = Speech("es", spoken)
    of_one = told(counted, count=1, whose=["Ana"])
    of_many = told(counted, count=12_000, whose=["Ana", told("in"), "Luz", "Eva"])
    assert (of_one, spanish.written(of_one)) == ("1 punch is of Ana", "1 marcación es de Ana")
    assert of_many == "12,000 punches are of Ana, in and 2 more"
    assert spanish.written(of_many) == "12\u00a0000 marcaciones son de Ana, entrada y 2 más"
    nobody = told(counted, count=0, whose=[])
    assert (nobody, spanish.written(nobody)) == ("0 punches are of none", "0 marcaciones son de ninguno")
    at = int(datetime(2026, 3, 4, 7, 30, tzinfo=UTC).timestamp())
    said = told("{share:.0%} by {at}, {then:clock}", share=0.125, at=Moment(at, "UTC"), then=Moment(at - 21_600, "UTC"))
    assert said == "12% by Wed 4 Mar 2026, 07:30, 01:30"
    # Diccionario panhispánico de dudas, «hora»: a la una, a las dos. Ortografía, VIII 2.4: 12 %.
    assert spanish.written(said) == "12\u00a0% a la 01:30, mié 4 mar 2026, 07:30"
    paid = told("{amount:pay} {when:ago}", amount=None, when=3 * 86_400)
    assert (paid, spanish.written(paid)) == ("not known 3 days ago", "no se sabe hace 3 días")
    ahead = told("{amount:pay} {when:ago}", amount=Decimal("7.5"), when=-7200)
    assert (ahead, spanish.written(ahead)) == ("7.50 in 2 h", "7.50 dentro de 2 h")
    assert not spanish.can_say(told(counted, count=1, whose=[told("out")]))


def test_counts_and_days_within_what_was_kept_are_told_again() -> None:
    kept = {"{count:a punch|# punches} on {day}": "{count:una marcación|# marcaciones} el {day}"}
    spanish = Speech("es", {}, kept)
    assert spanish.retold("a punch on Wed 4 Mar 2026") == "una marcación el mié 4 mar 2026"
    assert spanish.retold("12,500 punches on Sat 1 Aug") == "12\u00a0500 marcaciones el sáb 1 ago"
    assert spanish.retold("Wednesday") == "Wednesday"
    for first, last in ((date(2026, 3, 1), date(2026, 3, 14)), (date(2026, 12, 27), date(2027, 1, 9))):
        assert spanish.retold(ENGLISH.span_of_days(first, last)) == spanish.span_of_days(first, last)


def test_days_are_those_of_the_language() -> None:
    # Babel's own patterns of Unicode CLDR for es: EEE, d MMM y without its comma, and the weekday before it.
    for day in (DAY, date(2026, 9, 30), date(2027, 1, 2)):
        assert SPANISH.day(day) == format_date(day, "EEE d MMM y", locale="es")
        assert SPANISH.long_day(day).split()[0] == format_date(day, "EEEE", locale="es")
    assert SPANISH.long_day(DAY) == "miércoles 4 de marzo de 2026"
    assert SPANISH.short_day(DAY) == "mié 4 mar"
    assert SPANISH.span_of_days(date(2026, 3, 1), date(2026, 3, 14)) == "del dom 1 al sáb 14 mar 2026"
    assert SPANISH.written(DaySpan(date(2026, 12, 27), date(2027, 1, 9))) == "del dom 27 dic 2026 al sáb 9 ene 2027"
    assert ENGLISH.written(DaySpan(date(2026, 3, 1), date(2026, 3, 14))) == "Sun 1 to Sat 14 Mar 2026"
    at = int(datetime(2026, 3, 4, 12, 53, tzinfo=UTC).timestamp())
    assert SPANISH.moment(at, "America/Chicago") == "mié 4 mar 2026, 06:53"
    assert SPANISH.short_moment(at, "America/Chicago") == "mié 4 mar, 06:53"


def test_figures_are_grouped_as_no_country_reads_for_decimals() -> None:
    # Ortografía de la lengua española (2010), VIII 2.2.1: by spaces, from five figures on.
    assert [SPANISH.figure(count) for count in (999, 1234, 12345, -1234567)] == [
        "999",
        "1234",
        "12\u00a0345",
        "-1\u00a0234\u00a0567",
    ]
    assert SPANISH.written(told("{count:,} days in {time:duration}", count=12345, time=3900)) == (
        "12\u00a0345 días en 1 h 05 min"
    )
    assert told("{count:,} days in {time:duration}", count=12345, time=60) == "12,345 days in 1 min"


@pytest.mark.parametrize(
    ("things", "row"),
    [
        # Diccionario panhispánico de dudas, «y»: e before the sound of an i, but not before the diphthong of hielo.
        (["Ana", "Luz"], "Ana y Luz"),
        (["Ana", "Inés"], "Ana e Inés"),
        (["agua", "hielo"], "agua y hielo"),
        (["Ana", "Hilda"], "Ana e Hilda"),
        (["a", "b", "c"], "a, b y c"),
        (["a"], "a"),
        ([], ""),
    ],
)
def test_rows_of_things_end_with_an_and(things: list[str], row: str) -> None:
    assert SPANISH.listed(things) == row


def test_what_stands_within_a_sentence_begins_small_a_date_is_written_out_and_a_row_is_told_piece_by_piece() -> None:
    spoken = {
        "is {what:low} on {day:written}": "es {what:low} el {day:written}",
        "The end": "El final",
        "the start": "el inicio",
        "{one} or {other}": "{one} o {other}",
    }
    spanish = Speech("es", spoken)
    said = told("is {what:low} on {day:written}", what=told("The end"), day=DAY)
    assert said == "is the end on 4 March 2026"
    # Unicode CLDR's long date of es is d 'de' MMMM 'de' y.
    assert spanish.written(said) == f"es el final el {format_date(DAY, 'long', locale='es')}"
    either = in_a_row("{one} or {other}", ["1", told("the start"), "3"])
    assert either == "1 or the start or 3"
    assert spanish.said(either) == "1 o el inicio o 3"
    assert in_a_row("{one} or {other}", []) == ""


def test_spanish_writes_de_and_el_as_one_word_where_they_meet() -> None:
    pattern = "{how} después de {what}"
    spanish = Speech("es", {pattern: pattern})
    assert spanish(pattern, how="un año", what="el último día") == "un año después del último día"
    assert spanish(pattern, how="un año", what="El Paso") == "un año después de El Paso"
    assert spanish(pattern, how="cerca de el lector", what="eso") == "cerca de el lector después de eso"  # as written
