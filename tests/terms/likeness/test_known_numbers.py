"""What people know by heart, at the bounds."""

from __future__ import annotations

from datetime import date

from evenhand.terms.likeness.known_numbers import known_numbers
from evenhand.terms.sources import PEOPLE


def known(**row: object) -> dict[str, float]:
    found = known_numbers(PEOPLE.rows([{"person": "A", "name": "Ana", **row}]))
    return dict(found.select("number", "likelihood").rows())


def test_a_telephones_end_has_three_digits_or_more_and_is_never_the_whole() -> None:
    assert known(phone="12-345") == {"345": 1.0, "2345": 1.0}
    assert known(phone="123") == {}
    assert [len(number) for number in known(phone="+1 (312) 555-0147")] == [3, 4, 5, 6, 7, 8]


def test_a_house_number_has_two_digits_or_more_and_may_be_filled_up() -> None:
    assert known(address="7 Rye Street") == {}
    assert known(address="12 Rye Street") == {"12": 1.0, "0012": 1.0}
    assert known(address="4821 Rye Street 123456789") == {"4821": 1.0}
    # of two numbers of one length each is one of two
    assert known(address="12 Rye Street 88") == {"12": 0.5, "88": 0.5, "0012": 0.5, "0088": 0.5}


def test_the_first_day_of_work_as_it_may_be_keyed() -> None:
    found = known(hired_on=date(2026, 3, 9))
    assert {number for number in found if len(number) == 4} == {"0903", "0309", "0326", "2026"}
    assert {number for number in found if len(number) == 6} == {"090326", "030926", "260309"}
    assert {number for number in found if len(number) == 8} == {"09032026", "03092026"}
    # one number that is two dates is one
    assert known(hired_on=date(2026, 3, 3))["0303"] == 1 / 3


def test_nothing_known_is_nothing() -> None:
    assert known() == {}
