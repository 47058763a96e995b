import numpy as np
import pytest

from evenhand.twin.numbers import roster_numbers, typed_wrong


def test_roster_numbers_are_unique_text_with_their_zeros() -> None:
    zero_led, long = np.zeros(300, dtype=bool), np.zeros(300, dtype=bool)
    zero_led[:5], long[5:7] = True, True
    numbers = roster_numbers(np.random.default_rng(3), zero_led, long)
    assert len(set(numbers)) == 300
    assert all(number.startswith("0") and len(number) == 4 for number in numbers[:5])
    assert [len(number) for number in numbers[5:7]] == [5, 5]
    assert {len(number) for number in numbers[7:]} == {4}


def test_thousands_of_people_get_longer_numbers() -> None:
    nobody = np.zeros(5000, dtype=bool)
    numbers = roster_numbers(np.random.default_rng(3), nobody, nobody)
    assert len(set(numbers)) == 5000
    assert {len(number) for number in numbers} == {5}


@pytest.mark.parametrize(
    ("kind", "number", "outcomes"),
    [
        ("swapped", "4821", {"8421", "4281", "4812"}),
        ("dropped", "4821", {"421", "481", "482"}),
        ("zero_lost", "0417", {"417"}),
        ("swapped", "1112", {"1121"}),
    ],
)
def test_a_wrong_number_is_one_slip_away(kind: str, number: str, outcomes: set[str]) -> None:
    rng = np.random.default_rng(3)
    assert {typed_wrong(rng, kind, number, set()) for _ in range(60)} == outcomes


def test_a_wrong_number_belongs_to_nobody() -> None:
    rng = np.random.default_rng(3)
    assert {typed_wrong(rng, "swapped", "4821", {"8421", "4281"}) for _ in range(20)} == {"4812"}
    with pytest.raises(ValueError, match="belongs to somebody"):
        typed_wrong(rng, "zero_lost", "0417", {"417"})
