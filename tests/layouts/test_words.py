"""What short words stand for, in the languages of the files; common practice, no source."""

import pytest

from evenhand.layouts.values.coded import Unfit
from evenhand.layouts.values.fields import cell_parser
from evenhand.layouts.values.words import WORDS, YES_NO, is_total, plain
from evenhand.terms.sources import PEOPLE, PUNCHES

IN_AND_OUT = [
    ("Kommen", "Gehen"),
    ("Entrada", "Salida"),
    ("Entrada", "Saída"),
    ("Entrée", "Sortie"),
    ("Entrata", "Uscita"),
    ("Binnen", "Uit"),
    ("Wejście", "Wyjście"),
    ("IN", "OUT"),
]
ACCEPTED_AND_REFUSED = [
    ("Accepted", "Refused"),
    ("Erkannt", "Nicht erkannt"),
    ("Aceptado", "Rechazado"),
    ("Aceite", "Recusado"),
    ("Accepté", "Refusé"),
    ("Accettato", "Rifiutato"),
    ("Geaccepteerd", "Geweigerd"),
    ("Przyjęto", "Odrzucono"),
]
YES_AND_NO = [("Ja", "Nein"), ("Sí", "No"), ("Sim", "Não"), ("Oui", "Non"), ("Sì", "No"), ("Ja", "Nee"), ("Tak", "Nie")]


@pytest.mark.parametrize("pair", IN_AND_OUT)
def test_words_for_in_and_out_are_read_in_eight_languages(pair):
    assert [WORDS["direction"][plain(word)] for word in pair] == ["in", "out"]


@pytest.mark.parametrize("pair", ACCEPTED_AND_REFUSED)
def test_words_for_accepted_and_refused_are_read_in_eight_languages(pair):
    assert [WORDS["outcome"][plain(word)] for word in pair] == ["accepted", "refused"]


@pytest.mark.parametrize("pair", YES_AND_NO)
def test_words_for_yes_and_no_are_read(pair):
    assert [YES_NO[plain(word)] for word in pair] == [True, False]


def test_no_word_stands_for_two_things():
    for meanings in WORDS.values():
        assert all(plain(word) == word for word in meanings)
    assert "w" not in WORDS["direction"]  # both ways begin with it in Polish


def test_a_stroked_letter_is_read_as_the_letter():
    assert (plain("Fałsz"), plain("Łódź")) == ("falsz", "lodz")


def test_a_line_of_totals_is_known_in_polish():
    assert is_total("Razem: 40")


def test_a_mark_without_letters_is_read_as_the_layout_says_and_is_not_an_empty_cell():
    parse = cell_parser(PUNCHES.column("direction"), words={"+": "in", "-": "out"})
    assert (parse("+"), parse("-"), parse("")) == ("in", "out", None)
    with pytest.raises(Unfit):
        cell_parser(PUNCHES.column("direction"), words={"": "in"})("*")
    assert cell_parser(PEOPLE.column("is_supervisor"), words={"*": "yes"})("*") is True
