"""Numbers against figures published elsewhere, and against a library that others keep."""

from __future__ import annotations

from itertools import combinations
from math import perm

import pytest
from stdnum.iso7064 import mod_11_2

from evenhand.numbers import Scheme, chance_of_clash, design, members
from evenhand.numbers.slip_counts import landing

# Source: the birthday problem with 365 days as commonly tabulated, e.g. W. Feller, An Introduction to Probability
# Theory and Its Applications, volume 1, II.3 (figures from memory, to four digits).
BIRTHDAYS = {5: 0.0271, 10: 0.1169, 20: 0.4114, 22: 0.4757, 23: 0.5073, 30: 0.7063, 40: 0.8912, 50: 0.9704}


@pytest.mark.parametrize(("people", "chance"), BIRTHDAYS.items())
def test_a_clash_is_as_likely_as_published_for_birthdays(people: int, chance: float) -> None:
    assert chance_of_clash(people, 365) == pytest.approx(chance, abs=5e-5)


def test_a_clash_is_what_counting_arrangements_gives() -> None:
    # exact whole numbers: arrangements without a repeat among all (Python's math.perm)
    for people, numbers in ((0, 10), (1, 10), (4, 10), (10, 10), (11, 10), (300, 10_000)):
        assert chance_of_clash(people, numbers) == pytest.approx(1 - perm(numbers, people) / numbers**people, abs=1e-12)


def test_random_numbers_say_what_choosing_them_would_come_to() -> None:
    (drawn,) = (one for one in design(119, people_later=119, max_digits=4) if one.scheme == Scheme(4))
    # published: 119 is the first roster of whom two of 10,000 clash with more than even odds
    assert "with a chance of 51 % at least" in drawn.why


@pytest.mark.parametrize("digits", [3, 4, 5])
def test_mod_11_2_numbers_are_those_of_a_reference_that_can_be_keyed(digits: int) -> None:
    # Source: ISO/IEC 7064, MOD 11-2, as python-stdnum has it
    valid = [number for number in range(10**digits) if mod_11_2.is_valid(str(number).zfill(digits))]
    assert members(Scheme(digits, check="iso7064.mod_11_2")).tolist() == valid
    # published (see the cases of numbers): payloads that keep a digit as check
    assert len(valid) == {3: 91, 4: 909, 5: 9091}[digits]


def test_mod_11_2_misses_no_wrong_digit_and_no_swap() -> None:
    # Source: ISO/IEC 7064: MOD 11-2 finds all single errors and all transpositions, neighbours or not
    values = members(Scheme(4, check="iso7064.mod_11_2"))
    assert {kind: landing(values, 4, kind)[0] for kind in ("single", "adjacent", "jump")} == {
        "single": 0,
        "adjacent": 0,
        "jump": 0,
    }
    held = {str(value).zfill(4) for value in values.tolist()}
    for number in held:
        for one, other in combinations(range(4), 2):
            swapped = list(number)
            swapped[one], swapped[other] = swapped[other], swapped[one]
            assert "".join(swapped) == number or "".join(swapped) not in held
