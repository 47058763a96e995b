"""Where each enrolment stands: whose hand it is, whose number, and why."""

from __future__ import annotations

from datetime import timedelta

import pytest

from evenhand.reconcile.roster import roster_on
from evenhand.reconcile.standing import standings
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS
from tests.reconcile.test_compare import TODAY

PEOPLE_HERE = [
    {"person": "ana", "name": "Ana Ruiz", "number": "1111"},
    {"person": "ben", "name": "Ben Okafor", "number": "2222"},
    {"person": "ben2", "name": "Ben Okafor", "number": "2299"},
    {"person": "cy", "name": "Cy Marlow", "number": "3333"},
    {"person": "dora", "name": "Dora Lindqvist", "number": "3333"},
    {"person": "emil", "name": "Emil Novak", "number": "5555", "left_on": TODAY - timedelta(days=1)},
    {"person": "fay", "name": "Fay Turner", "number": "0666"},
    {"person": "gus", "name": "Gus Weber", "number": None},
    {"person": "hana", "name": "Hana Sato", "number": "8642", "hired_on": TODAY + timedelta(days=1)},
]
BESIDE = "the reader holds the name '{}' beside {}"
# number, name -> state, person, holder, the person's number, why
STANDING = {
    ("1111", None): ("right", "ana", "ana", "1111", ""),
    ("1111", "RUIZ, ANA"): ("right", "ana", "ana", "1111", ""),
    ("1111", "Nobody Known"): ("right", "ana", "ana", "1111", ""),
    # a name that two bear tells of neither
    ("1111", "Ben Okafor"): ("right", "ana", "ana", "1111", ""),
    ("2222", "Ben Okafor"): ("right", "ben", "ben", "2222", ""),
    ("8642", None): ("right", "hana", "hana", "8642", ""),
    ("2222", "Ana Ruiz"): (
        "other_hand",
        "ana",
        "ben",
        "1111",
        BESIDE.format("Ana Ruiz", "2222") + ", and the roster gives 2222 to Ben Okafor (ben)",
    ),
    # whoever has no number has a hand all the same
    ("1111", "Gus Weber"): (
        "other_hand",
        "gus",
        "ana",
        None,
        BESIDE.format("Gus Weber", "1111") + ", and the roster gives 1111 to Ana Ruiz (ana)",
    ),
    # who is not here laid no hand down
    ("2222", "Emil Novak"): ("right", "ben", "ben", "2222", ""),
    ("3333", None): ("shared", None, None, None, ""),
    ("3333", "Dora Lindqvist"): ("shared", "dora", None, "3333", ""),
    ("3333", "Ana Ruiz"): ("shared", None, None, None, ""),
    ("5555", None): ("leaver", "emil", "emil", "5555", ""),
    ("5555", "Emil Novak"): ("leaver", "emil", "emil", "5555", ""),
    ("5555", "Ana Ruiz"): ("wrong", "ana", None, "1111", BESIDE.format("Ana Ruiz", "5555")),
    ("9753", "Ana Ruiz"): ("wrong", "ana", None, "1111", BESIDE.format("Ana Ruiz", "9753")),
    ("9753", "Gus Weber"): ("unknown", None, None, None, ""),
    ("9753", "Hana Sato"): ("unknown", None, None, None, ""),
    ("666", "Fay Turner"): ("zeros", "fay", None, "0666", BESIDE.format("Fay Turner", "666")),
    ("666", None): ("zeros", "fay", None, "0666", "666 is 0666 without the zeros in front"),
    ("00666", None): ("zeros", "fay", None, "0666", "00666 is 0666 with zeros in front"),
    ("1121", None): ("wrong", "ana", None, "1111", "1121 is 1111 with one digit mistyped"),
    ("1121", "A. Ruiz"): ("wrong", "ana", None, "1111", BESIDE.format("A. Ruiz", "1121")),
    ("1121", "Lenka Dvorak"): ("unknown", None, None, None, ""),
}


def stand(*enrolments, site="Mill"):
    listed = READERS.rows({"reader": name, "site": site, "zone": "America/Chicago"} for name in ("North", "East"))
    people = PEOPLE.rows({"site": "Mill"} | row for row in PEOPLE_HERE)
    rows = ENROLMENTS.rows({"reader": "North"} | row for row in enrolments)
    return standings(roster_on(people, TODAY), listed, rows)


def test_a_pair_of_number_and_name_stands_as_the_roster_has_them():
    for (number, name), (state, person, holder, right, why) in STANDING.items():
        assert stand({"number": number, "name": name}).rows(named=True) == [
            {
                "reader": "North",
                "number": number,
                "name": name,
                "has_authority": False,
                "tells_authority": False,
                "state": state,
                "person": person,
                "holder": holder,
                "why": why,
                "right": right,
            }
        ]


def test_enrolments_keep_their_order_and_their_authority():
    rows = [
        {"number": "9753"},
        {"number": "1111", "is_supervisor": True},
        {"number": "666"},
        {"number": "2222", "reader": "East"},
        {"number": "1131", "reader": "East"},
        {"number": "2299", "is_supervisor": False},
    ]
    found = stand(*rows).select("reader", "number", "state", "has_authority", "tells_authority").rows()
    assert found == [
        ("North", "9753", "unknown", False, True),
        ("North", "1111", "right", True, True),
        ("North", "666", "zeros", False, True),
        ("East", "2222", "right", False, False),
        ("East", "1131", "wrong", False, False),
        ("North", "2299", "right", False, True),
    ]


def test_a_slip_counts_only_at_the_persons_site_and_where_they_are_not_enrolled():
    assert stand({"number": "1121"}, site="Quarry")["state"].to_list() == ["unknown"]
    assert stand({"number": "1121"}, {"number": "1111"})["state"].to_list() == ["unknown", "right"]
    assert stand({"number": "1121"}, {"number": "1111", "reader": "East"})["state"].to_list() == ["wrong", "right"]


def test_of_several_the_one_who_is_enrolled_nowhere_meant_the_number():
    # 2229 is 2222 or 2299 with one digit mistyped
    both = stand({"number": "2229"})
    assert both.select("state", "person", "right").row(0) == ("unknown", None, None)
    assert both["why"].to_list() == [
        "it could be Ben Okafor (ben), as 2229 is 2222 with one digit mistyped; "
        "Ben Okafor (ben2), as 2229 is 2299 with one digit mistyped"
    ]
    one = stand({"number": "2229"}, {"number": "2222", "reader": "East"})
    assert one.select("state", "person", "right", "why").row(0) == (
        "wrong",
        "ben2",
        "2299",
        "2229 is 2299 with one digit mistyped",
    )


LEAVING = TODAY - timedelta(days=90)
GIVEN_AWAY = [
    {"person": "emil", "name": "Emil Novak", "number": "5555", "left_on": LEAVING},
    {"person": "ines", "name": "Ines Holt", "number": "5555", "hired_on": TODAY - timedelta(days=5)},
]


@pytest.mark.parametrize(
    ("name", "enrolled", "person"),
    [
        ("NOVAK E", LEAVING - timedelta(days=900), "emil"),
        ("Emil Novak", None, "emil"),
        # nobody's name, enrolled before the holder began
        (None, LEAVING - timedelta(days=900), "emil"),
        # enrolled after the leaver's last day it is no hand of theirs
        ("Emil Novak", TODAY - timedelta(days=4), "ines"),
        (None, TODAY - timedelta(days=4), "ines"),
        (None, None, "ines"),
        ("Ines Holt", None, "ines"),
    ],
)
@pytest.mark.parametrize("number", ["5555", None])
def test_a_number_given_to_somebody_else_does_not_give_them_the_leavers_hand(name, enrolled, person, number):
    people = PEOPLE.rows([GIVEN_AWAY[0] | {"number": number}, GIVEN_AWAY[1]])
    readers = READERS.rows([{"reader": "North", "zone": "America/Chicago"}])
    listed = ENROLMENTS.rows([{"reader": "North", "number": "5555", "name": name, "enrolled_on": enrolled}])
    found = standings(roster_on(people, TODAY), readers, listed).row(0, named=True)
    if number is None and name is None:  # nothing tells any more that it was the leaver's
        person = "ines"
    assert (found["person"], found["state"]) == (person, "leaver" if person == "emil" else "right")
