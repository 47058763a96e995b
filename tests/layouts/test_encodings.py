"""Encodings, checked against Python's codecs: every text comes back as it was encoded, or is not taken."""

import codecs

import pytest

from evenhand.layouts import Layout, SourceFile, read
from evenhand.layouts.forms.alphabets import PAGES
from evenhand.layouts.forms.code_pages import code_page_of
from evenhand.layouts.forms.encoding import DAMAGED, to_utf8
from evenhand.terms.records import Refusal

HEADER = "name;number\n"
PEOPLE = Layout("people", "delimited", {"name": ("name",), "number": ("number",)}, delimiter=";", header=1)

# Common names of each language, from memory.
WEST = {
    "Spanish": "Peña Muñoz Núñez García Íñigo Begoña",
    "French": "Hélène Thérèse Lefèvre François Élodie Zoé",
    "German": "Müller Größe Jäger Döring",
    "Portuguese": "João Magalhães Gonçalves Simões Inês",
    "Danish": "Sørensen Kjær Åse Bjørn",
    "Swedish": "Håkan Åberg Sjöström",
    "Italian": "Nicolò Forlì Cantù",
}
CENTRAL = {
    "Polish": "Łukasz Świątek Zieliński Wałęsa Żak Dębski",
    "Czech": "Dvořák Jiří Růžička Kateřina Vlčková Řezáč",
    "Slovak": "Ľubomír Naďa Bartoň Ťapák Kováčik",
    "Croatian": "Kovačić Čović Đurić Ćorić",
}


@pytest.mark.parametrize(
    ("language", "page"), [*((name, "cp1252") for name in WEST), *((name, "cp1250") for name in CENTRAL)]
)
def test_each_language_is_read_as_it_was_written(language, page):
    names = (WEST | CENTRAL)[language]
    text = HEADER + "".join(f"{name};{at:04}\n" for at, name in enumerate(names.split()))
    assert to_utf8("f", text.encode(page)).decode() == text


@pytest.mark.parametrize("name", [name for names in [*WEST.values(), *CENTRAL.values()] for name in names.split()])
def test_one_name_alone_is_read_rightly_or_asked_about(name):
    page = "cp1252" if any(name in names.split() for names in WEST.values()) else "cp1250"
    content = f"{HEADER}{name};0012\n".encode(page)
    try:
        assert to_utf8("f", content).decode() == f"{HEADER}{name};0012\n"
    except Refusal as refusal:
        assert name in str(refusal)  # both readings are named


def test_a_word_that_tells_nothing_is_asked_about_with_both_readings():
    with pytest.raises(Refusal, match=r"'Dêbski'.*'Dębski'.*windows-1250"):
        to_utf8("f", f"{HEADER}Dębski;1\n".encode("cp1250"))
    assert "Dębski" in to_utf8("f", f"{HEADER}Dębski;1\n".encode("cp1250"), "windows-1250").decode()


POLISH = "Bożena Ścibor Łucja Wąsacz Tymon Grządka Halina Pęcak Dobromir Śliż Kinga Bąbel Ćwik Oźga Zając Kłos"


@pytest.mark.parametrize(
    ("names", "page"),
    [
        *((POLISH, page) for page in ("iso8859-2", "mac-latin2", "cp852", "cp1250")),
        ("Wąsacz Grządka Bąbel Ścibor", "iso8859-2"),
        *(("Peña Muñoz Núñez García Íñigo Begoña", page) for page in ("mac-roman", "cp1252")),
        *(("Müller Größe Jäger Döring Böhm", page) for page in ("mac-roman", "cp1252")),
        *((names, "iso8859-2") for names in CENTRAL.values()),
        *((names, "mac-latin2") for language, names in CENTRAL.items() if language != "Croatian"),  # it has no Đ
        *((names, "cp852") for names in CENTRAL.values()),
        *((names, "mac-roman") for names in WEST.values()),
        *((names, "cp850") for names in WEST.values()),
    ],
)
def test_pages_of_other_systems_are_told_by_their_words_or_asked_about(names, page):
    text = HEADER + "".join(f"{name};{at:04}\n" for at, name in enumerate(names.split()))
    try:
        read = to_utf8("f", text.encode(page)).decode()
    except Refusal as refusal:
        assert names != POLISH
        # What is advised is right: a page that is named reads what was written, or none is named.
        named = [one for one in PAGES if one in str(refusal)]
        assert not named or text in [text.encode(page).decode(one, errors="replace") for one in named]
    else:
        # A line that happens to be UTF-8 as well is marked, and its row refused.
        assert all(line in text or line.startswith(DAMAGED) for line in read.splitlines())


def test_signs_amid_many_letters_are_no_letters():
    with pytest.raises(Refusal, match="signs amid its letters"):
        to_utf8("f", (HEADER + "Ana¤¦Ruiz;1\nBo¤¤Berg;2\nCy¤¦Roe;3\n").encode("cp1252"))
    kept = HEADER + "O’Brien – Müller N°5 12°C;1\n"
    assert to_utf8("f", kept.encode("cp1252")).decode() == kept


def test_bytes_that_mean_the_same_in_both_pages_need_no_decision():
    assert code_page_of("Müller é 12 °C §".encode("cp1252"))[0] == "windows-1252"


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_without_its_mark_is_told_by_its_zeros(encoding):
    text = HEADER + "Łukasz Żak;0012\n" * 20
    assert to_utf8("f", text.encode(encoding)).decode() == text


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-32"])
def test_wide_text_cut_in_the_middle_of_a_character_loses_no_row_and_refuses_the_last(encoding):
    text = HEADER + "Ana Ruiz;0012\nBo Berg;0013"
    rows = read(SourceFile("f.csv", text.encode(encoding)[:-1]), PEOPLE, zones={})
    assert rows.frame["name"].to_list() == ["Ana Ruiz"]
    assert rows.rejects["line"].to_list() == [3]


def test_half_a_surrogate_pair_refuses_its_row_alone():
    text = (HEADER + "Ana;1\n").encode("utf-16-le") + b"\x00\xd8" + "Bo;2\nCy;3\n".encode("utf-16-le")
    rows = read(SourceFile("f.csv", codecs.BOM_UTF16_LE + text), PEOPLE, zones={})
    assert rows.frame["name"].to_list() == ["Ana", "Cy"]
    assert rows.rejects["line"].to_list() == [3]


@pytest.mark.parametrize(
    "overlong", [b"\xc0\xaf", b"\xe0\x80\xaf", b"\xf0\x80\x80\xaf", b"\xed\xa0\x80", b"\xf8\x88\x80\x80\x80"]
)
def test_overlong_and_surrogate_forms_of_utf_8_are_never_read_as_characters(overlong):
    # The Unicode Standard, table 3-7: none of these is well-formed.
    with pytest.raises(UnicodeDecodeError):
        overlong.decode()
    good = HEADER.encode() + "Peña;1\nMüller;2\n".encode()
    rows = read(SourceFile("f.csv", good + b"A" + overlong + b";3\n"), PEOPLE, zones={})
    assert rows.frame["name"].to_list() == ["Peña", "Müller"]
    assert rows.rejects["line"].to_list() == [4]


def test_a_mark_of_utf_8_decides_even_against_most_lines():
    content = codecs.BOM_UTF8 + HEADER.encode() + b"Pe\xf1a;1\nMu\xf1oz;2\nAna;3\n"
    rows = read(SourceFile("f.csv", content), PEOPLE, zones={})
    assert rows.frame["name"].to_list() == ["Ana"]
    assert rows.rejects["line"].to_list() == [2, 3]


@pytest.mark.parametrize("mark", [codecs.BOM_UTF8, b""])
def test_lines_that_end_in_carriage_returns_alone_are_lines(mark):
    content = mark + (HEADER + "Ana;1\nBo;2\n").replace("\n", "\r").encode()
    assert read(SourceFile("f.csv", content), PEOPLE, zones={}).lines.tolist() == [2, 3]
