"""The workplace's own steps: what a file of them may say, and what is refused in a sentence."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.enrolment.own_steps import HEADINGS, OwnSteps, Quick, headings_of, own_steps_text, read_own_steps
from evenhand.enrolment.paper.drawings import drawing
from evenhand.jobs.own_steps import form_to_fill_in
from evenhand.terms.records import Refusal

LANGUAGES = ("en", "es")
LID = """kind = "Lidded"
readers = ["GATE"]
[en]
get_in = ["Lift the lid.", "Lay your own hand down."]
enrol = ["Turn the green card over.", "Key the number.", "Press the bell."]
[es]
get_in = ["Levante la tapa.", "Apoye su propia mano."]
enrol = ["Dé la vuelta a la ficha verde.", "Teclee el número.", "Toque el timbre."]
[quick]
enrol = { step = 3, seconds = 8 }
"""


def test_a_file_says_the_steps_by_language_and_heading_and_which_must_be_quick():
    steps = read_own_steps(LID, "lid.toml", LANGUAGES)
    assert (steps.kind, steps.readers) == ("Lidded", ("GATE",))
    assert steps.words["es"]["enrol"][1] == "Teclee el número."
    assert steps.quick == {"enrol": Quick(3, 8)}
    assert (steps.spoken("es"), steps.spoken("fr")) == ("es", "en")
    assert headings_of("enrol_supervisor") == ("get_in", "enrol", "make_supervisor", "get_out")


@pytest.mark.parametrize(
    ("was", "becomes", "sentence"),
    [
        ('kind = "Lidded"', "", "kind is missing"),
        ('kind = "Lidded"', "kind = 3", "kind is empty or no text"),
        ('readers = ["GATE"]', 'readers = "GATE"', "readers is no list"),
        ("get_in = [", "open = [", "open is no heading"),
        ("[es]", "[fr]", "fr is not known here"),
        ('"Press the bell."', "3", "step 3 of enrol"),
        ('"Press the bell."', '"Press\\u202e the bell."', "characters that do not show"),
        ('"Teclee el número.", ', "", "different numbers of steps"),
        ("step = 3", "step = 4", "there is no step 4"),
        ("seconds = 8", "seconds = 0", "between 1 and 600 seconds"),
        ("seconds = 8", 'seconds = "8"', "names no step with its seconds"),
        ("enrol = {", "lid = {", "quick names, for any of"),
        ("[quick]", "[quick", "is no TOML"),
    ],
)
def test_what_is_not_understood_is_refused_in_a_sentence(was, becomes, sentence):
    with pytest.raises(Refusal, match=sentence):
        read_own_steps(LID.replace(was, becomes, 1), "lid.toml", LANGUAGES)


def test_the_form_to_fill_in_has_the_five_headings_and_no_step_of_anybodys():
    form = form_to_fill_in()
    assert [form.count(f"\n{heading} = []") for heading in HEADINGS] == [2] * 5
    with pytest.raises(Refusal, match="no step is written"):
        read_own_steps(form, "form", LANGUAGES)


TEXT = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S")), min_size=1, max_size=20)


@given(TEXT, st.lists(TEXT, unique=True, max_size=3), st.lists(TEXT, min_size=1, max_size=4), st.integers(1, 600))
def test_what_is_written_down_is_read_back_the_same(kind, readers, lines, seconds):
    words = {"en": {heading: tuple(lines) if heading == "remove" else () for heading in HEADINGS}}
    text = own_steps_text(OwnSteps(kind, tuple(readers), words, {"remove": Quick(len(lines), seconds)}))
    steps = read_own_steps(text, "steps", LANGUAGES)
    # letters are composed (NFC) as everywhere, once
    assert list(steps.words["en"]["remove"]) == [unicodedata.normalize("NFC", line) for line in lines]
    assert read_own_steps(own_steps_text(steps), "steps", LANGUAGES) == steps
    assert steps.quick == {"remove": Quick(len(lines), seconds)}


@pytest.mark.parametrize(("name", "sign"), [("flat", "right"), ("posts", "right"), ("ring", "wrong"), ("far", "wrong")])
def test_a_drawing_says_by_a_sign_whether_it_is_right(name, sign):
    signs = {one for one in ("right", "wrong") if f'class="{one}"' in drawing(name)}
    assert signs == {sign}
