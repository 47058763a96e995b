"""How a number or a name can be somebody's all the same."""

from __future__ import annotations

import pytest

from evenhand.reconcile.likeness import is_same_name, lost_zeros, name_forms, slip_between, taken_from


@pytest.mark.parametrize(
    ("seen", "slip"),
    [
        ("4281", "swapped"),
        ("481", "dropped"),
        ("48821", "doubled"),
        ("48321", "added"),
        ("4822", "mistyped"),
        ("4821", ""),
        ("1284", ""),
        ("4288", ""),
    ],
)
def test_one_slip_from_4821(seen, slip):
    found = slip_between(seen, "4821")
    assert slip in found
    assert bool(found) == bool(slip)


def test_two_swaps_in_one_are_one_slip_only_when_adjacent():
    # the distance is 1 for adjacent digits only: 4821 > 8421 is one, 4821 > 2841 (a jump) is more
    assert "swapped" in slip_between("8421", "4821")
    assert slip_between("2841", "4821") == ""


@pytest.mark.parametrize(
    ("seen", "same"),
    [
        ("Ana Ruíz", True),
        ("RUIZ, ANA", True),
        ("ruiz ana", True),
        ("ana ru", True),
        ("An", False),
        ("Ana Ruizo", False),
        ("Ben Okafor", False),
        ("", False),
        (None, False),
    ],
)
def test_names_that_are_ana_ruiz(seen, same):
    assert is_same_name(seen, name_forms("Ana Ruiz")) == same


def test_only_zeros_in_front_are_lost_zeros():
    assert lost_zeros("123", "0123")
    assert lost_zeros("0123", "123")
    assert not lost_zeros("123", "123")
    assert not lost_zeros("1230", "123")
    assert not lost_zeros("0", "000")


def test_the_end_of_a_telephone_number_and_a_house_number_are_recognised():
    assert "telephone" in taken_from("0147", "(312) 555-0147", None)
    assert taken_from("147", "(312) 555-0147", None) == ""
    assert "street" in taken_from("0012", None, "Calle Mayor 12")
    assert taken_from("2", None, "2 Mill Lane") == ""
