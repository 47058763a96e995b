"""The round on paper, looked at as a printer would show it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from evenhand.enrolment.paper import Heading, print_cards, print_round, print_slips
from evenhand.jobs.round_files import round_stationery
from evenhand.terms.rounds import ROUND_ITEMS
from tests.printed import box_of, codes, pictures, texts

DPI = 150
STATIONERY = round_stationery()
ADDRESS = "http://127.0.0.1:8777/rounds/2026-03-09-1/"
ODD_NAME = 'Ada #panic("x") *Bold* $x$ <b>&amp;'


def _item(n, reader="GATE", action="enrol", number=None, name=None, language="en"):
    return {
        "item": f"r1-{n}",
        "round": "r1",
        "reader": reader,
        "position": n,
        "starts_at": 1_773_064_800 + 600 * n,
        "action": action,
        "number": number or f"{40_000 + 7 * n}",
        "person": f"P{n}",
        "name": name or f"Person {n}",
        "language": language,
    }


ITEMS = ROUND_ITEMS.rows(
    [
        _item(1, action="enrol_supervisor"),
        _item(2, name=ODD_NAME),
        _item(3, language="es", number="0083214406"),
        _item(4, action="remove", number="55555"),
        _item(5, reader="BACK HALL"),
    ]
)
HEADING = Heading(
    "New press hall",
    date(2026, 3, 9),
    {"GATE": "America/Chicago", "BACK HALL": "America/Chicago"},
    {"GATE": "North gate"},
    lambda reader: ADDRESS + reader.replace(" ", "%20"),
)


def test_each_reader_has_its_page_and_its_code_opens_the_round_there() -> None:
    assert codes(print_round(ITEMS, HEADING, STATIONERY, language="en")) == [
        [ADDRESS + "BACK%20HALL"],
        [ADDRESS + "GATE"],
    ]


def test_the_sheet_says_whom_to_call_when_and_under_which_number() -> None:
    back, gate = texts(print_round(ITEMS, HEADING, STATIONERY, language="en"))
    assert "BACK HALL" in back
    assert "40035" in back
    for words in (
        "North gate",
        "Monday, March 9, 2026",
        "09:10",
        "40007",
        "Person 1",
        "Enrol as supervisor",
        "speaks Spanish",
    ):
        assert words in gate
    assert gate.index("40007") < gate.index("40014") < gate.index("0083214406") < gate.index("55555")
    assert ODD_NAME in re.sub(r"\s+", " ", gate)


def test_the_sheet_speaks_the_supervisors_language() -> None:
    _, gate = texts(print_round(ITEMS, HEADING, STATIONERY, language="es", paper="a4"))
    for words in (
        "lunes, 9 de marzo de 2026",
        "Inscribir (supervisión)",
        "No vino",
        "habla inglés",
        "Quitar este número",
    ):
        assert words in gate


def test_a_hand_without_a_release_is_marked_on_the_sheet() -> None:
    item = "r1-2"
    says = "No release in force: the person reads and decides first."
    marked, plain = (
        [" ".join(page.split()) for page in texts(print_round(ITEMS, heading, STATIONERY, language="en"))]
        for heading in (replace(HEADING, unreleased=[item]), HEADING)
    )
    assert [page.count(says) for page in marked] == [0, 1]
    assert [page.count(says) for page in plain] == [0, 0]


def test_digits_can_be_read_at_arms_length() -> None:
    # 20 minutes of arc at 70 cm are 700 mm x tan(20/60 degrees) = 4.1 mm; the figure of 20 to 22 minutes of arc is
    # ISO 9241-303's preferred character height (from memory).
    pdf = print_round(ITEMS, HEADING, STATIONERY, language="en")
    page = pictures(pdf, DPI)[1].convert("L")
    for number in ("40007", "0083214406"):
        ink = np.asarray(page.crop(box_of(number, pdf, page=1, dpi=DPI))) < 128
        height_mm = np.ptp(np.flatnonzero(ink.any(axis=1))) / DPI * 25.4
        assert height_mm > 4.1


def test_a_slip_holds_one_persons_own_number_in_their_language() -> None:
    (page,) = texts(print_slips(ITEMS, HEADING, STATIONERY))
    for number in ("40007", "40014", "0083214406", "40035"):
        assert page.count(number) == 1
    assert "55555" not in page
    assert page.count("Su número en el lector") == 1
    assert page.count("Your number at the reader") == 3


def test_a_sheet_for_nobody_can_still_be_printed() -> None:
    assert print_slips(ROUND_ITEMS.empty(), HEADING, STATIONERY).startswith(b"%PDF")
    assert print_round(ROUND_ITEMS.empty(), HEADING, STATIONERY, language="en").startswith(b"%PDF")


@pytest.mark.parametrize(
    ("card", "english", "spanish"),
    [
        ("wall_card", "Close your fingers gently", "Cierre los dedos con suavidad"),
        ("supervisor_card", "Three presentations", "Tres presentaciones"),
    ],
)
def test_a_card_has_one_page_a_language(card: str, english: str, spanish: str) -> None:
    pages = texts(print_cards(STATIONERY, card=card))
    assert [english in pages[0], spanish in pages[1], len(pages)] == [True, True, 2]


def test_the_same_round_is_set_the_same_way_twice() -> None:
    assert texts(print_round(ITEMS, HEADING, STATIONERY, language="en")) == texts(
        print_round(ITEMS, HEADING, STATIONERY, language="en")
    )
