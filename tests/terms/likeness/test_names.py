"""Whose name somebody wrote: hand-made pairs, each with the reason beside it."""

from __future__ import annotations

import polars as pl
import pytest

from evenhand.terms.likeness.names import bearers
from evenhand.terms.sources import PEOPLE


def is_borne(written: str | None, name: str) -> bool:
    people = PEOPLE.rows([{"person": "A", "name": name}, {"person": "Z", "name": "Zoe Underhill"}])
    return "A" in bearers(pl.Series([written], dtype=pl.String), people)["person"].to_list()


# the variations of names that Christen (2006) lists: order, initials, shortened forms, marks
@pytest.mark.parametrize(
    ("written", "name", "borne"),
    [
        ("Ana Ruiz", "Ana Ruíz", True),  # accent
        ("RUIZ ANA", "Ana Ruiz", True),  # surname first, no comma
        ("Ruiz, Ana", "Ana Ruiz", True),
        ("Ana Ruiz", "Ruiz, Ana", True),
        ("ana ru", "Ana Ruiz", True),  # cut short
        ("RUIZ AN", "Ana Ruiz", True),  # turned and cut short
        ("Ana", "Ana Ruiz", False),  # three letters could be many
        ("Anat", "Ana Ruiz", False),
        ("Ana Ruizo", "Ana Ruiz", False),  # longer than the name
        ("Maria Lopez", "Mario Lopez", False),  # one letter parts two people
        ("A. Ruiz", "Ana Ruiz", True),  # initial
        ("RUIZ A", "Ana Ruiz", True),
        ("B. Ruiz", "Ana Ruiz", False),
        ("Ana M. Ruiz", "Ana Ruiz", True),  # initial that the roster has not
        ("Ana Ruiz", "Ana María Ruiz", True),  # middle name left out
        ("Ruiz, Ana", "Ana María Ruiz", True),
        ("RUIZ LOPEZ ANA", "Ana Ruiz López", True),
        ("María Ruiz", "Ana María Ruiz", True),  # nothing says that María Ruiz are not two surnames
        ("Mueller", "Jürgen Müller", True),  # ICAO Doc 9303: ü is UE
        ("MULLER JURGEN", "Jürgen Müller", True),
        ("Jurgen Moller", "Jürgen Müller", False),
        ("LUKASZ OESTER", "Łukasz Øster", True),  # ł is L, ø is OE
        ("Strasse, Eva", "Eva Straße", True),
        ("ONEIL SEAN", "Sean O'Neil", True),
        ("SMITH JONES KAY", "Kay Smith-Jones", True),
        ("", "Ana Ruiz", False),
        (None, "Ana Ruiz", False),
        ("  ", "Ana Ruiz", False),
        ("...", "Ana Ruiz", False),
    ],
)
def test_a_name_that_was_written_is_somebodys(written: str | None, name: str, borne: bool) -> None:
    assert is_borne(written, name) == borne


def test_a_name_cut_short_is_everybodys_whose_it_can_be() -> None:
    people = PEOPLE.rows([{"person": who, "name": name} for who, name in (("A", "Ana Ruiz"), ("B", "Ana Rubio"))])
    found = bearers(pl.Series(["ana ru", "Ana Ruiz", "Ana Ruiz"]), people)
    assert found.rows() == [("Ana Ruiz", "A"), ("ana ru", "A"), ("ana ru", "B")]


def test_people_without_a_name_bear_none() -> None:
    people = PEOPLE.rows([{"person": "A", "name": None}, {"person": "B", "name": "-"}])
    assert bearers(pl.Series(["Ana Ruiz", "-"]), people).is_empty()
    assert bearers(pl.Series([], dtype=pl.String), people).is_empty()
