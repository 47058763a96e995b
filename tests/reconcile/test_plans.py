"""What is to be done at each reader, from discrepancies to steps: all columns, and where somebody is placed."""

from __future__ import annotations

from datetime import timedelta

import pytest

from evenhand.reconcile import attribute, compare, count_seen, reader_steps
from evenhand.reconcile.concerned import concerned_by
from evenhand.reconcile.ordering import ReaderStep
from evenhand.reconcile.plans import Plan
from evenhand.reconcile.roster import roster_on
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS
from evenhand.terms.tables import CORRECTIONS, DISCREPANCIES, READER_STEPS, RECORDED
from tests.reconcile.test_compare import TODAY, ZONE

YESTERDAY, TOMORROW = TODAY - timedelta(days=1), TODAY + timedelta(days=1)
ANA = {"person": "ana", "name": "Ana Ruiz", "number": "1111", "is_supervisor": True}
BEN = {"person": "ben", "name": "Ben Okafor", "number": "2222", "is_supervisor": True}
CY = {"person": "cy", "name": "Cy Marlow", "number": "3333"}
DORA = {"person": "dora", "name": "Dora Lindqvist", "number": "4444"}
EMIL = {"person": "emil", "name": "Emil Novak", "number": "5555"}
SUPERVISORS = [{"number": "1111", "is_supervisor": True}, {"number": "2222", "is_supervisor": True}]
TWO = "is a supervisor of the site, and two should stand on each reader"
NO_READER = "{} is on none of the readers of site Mill ({})"
ONCE_SEEN = "; not before a punch under {} has been accepted there"


def listed(*numbers, **more):
    return [{"number": number, "is_supervisor": False} | more for number in numbers]


def frames(people, enrolments, readers=({},), punches=()):
    return (
        PEOPLE.rows({"site": "Mill"} | row for row in people),
        READERS.rows({"reader": "North", "site": "Mill", "zone": ZONE} | row for row in readers),
        ENROLMENTS.rows({"reader": "North"} | row for row in enrolments),
        RECORDED.rows({"punch": at, "reader": "North", "at": 0, "number": one} for at, one in enumerate(punches)),
    )


def steps_of(people, enrolments, readers=({},), punches=()):
    """Return the steps in a workplace whose people are at the mill and whose reader is North, where not said."""
    roster, hung, enrolled, recorded = frames(people, enrolments, readers, punches)
    nobodys = attribute(recorded, roster, hung, CORRECTIONS.empty()).unattributed
    found = compare(roster, hung, enrolled, count_seen(recorded), nobodys, as_of=TODAY)
    return READER_STEPS.check(reader_steps(roster, hung, enrolled, found, as_of=TODAY))


def rows(*steps):
    """Return rows of READER_STEPS at North from action, number, person, name and why."""
    names = ("action", "number", "person", "name", "why")
    return [
        {"reader": "North", "position": at} | dict(zip(names, step, strict=True)) for at, step in enumerate(steps, 1)
    ]


WHOLE = {
    "nobody is lacking": ([ANA, BEN], SUPERVISORS, [], []),
    "supervisors, whoever is nowhere": (
        [ANA, BEN, CY],
        [],
        [],
        [
            ("enrol_supervisor", "1111", "ana", "Ana Ruiz", f"Ana Ruiz (ana) {TWO}"),
            ("enrol_supervisor", "2222", "ben", "Ben Okafor", f"Ben Okafor (ben) {TWO}"),
            ("enrol", "3333", "cy", "Cy Marlow", NO_READER.format("3333", "North")),
        ],
    ),
    "the third of three supervisors is not needed as one, but placed as one": (
        [ANA, BEN, CY | {"is_supervisor": True}],
        SUPERVISORS,
        [],
        [("enrol_supervisor", "3333", "cy", "Cy Marlow", NO_READER.format("3333", "North"))],
    ),
    "a leaver, and a number nobody holds under which no punch arrives, each taken off": (
        [ANA, BEN, CY | {"left_on": YESTERDAY}],
        [*SUPERVISORS, *listed("3333"), *listed("9753", name="Lenka Dvorak")],
        [],
        [
            (
                "remove",
                "3333",
                "cy",
                "Cy Marlow",
                "3333 is still enrolled at North; Cy Marlow (cy), who held it, left on 2026-03-08",
            ),
            (
                "remove",
                "9753",
                None,
                "Lenka Dvorak",
                "9753 is enrolled at North with the name 'Lenka Dvorak', and nobody on the roster holds it",
            ),
        ],
    ),
    "punches arrive under it": (
        [ANA, BEN],
        [*SUPERVISORS, *listed("9753")],
        ["9753"],
        [
            (
                "remove",
                "9753",
                None,
                None,
                "9753 is enrolled at North, and nobody on the roster holds it; 1 punch on 1969-12-31"
                "; find out first whose punches arrive under it",
            )
        ],
    ),
    "a wrong number is exchanged for the right one": (
        [ANA, BEN, CY],
        [*SUPERVISORS, *listed("3343")],
        [],
        [
            (
                action,
                number,
                "cy",
                "Cy Marlow",
                "3343 at North is the hand of Cy Marlow (cy), whose number is 3333: "
                f"3343 is 3333 with one digit mistyped{seen}",
            )
            for action, number, seen in (("enrol", "3333", ""), ("remove", "3343", ONCE_SEEN.format("3333")))
        ],
    ),
    "a wrong number goes where the right one stands": (
        [ANA, BEN, CY],
        [*SUPERVISORS, *listed("3333"), *listed("9753", name="Cy Marlow")],
        [],
        [
            (
                "remove",
                "9753",
                "cy",
                "Cy Marlow",
                "9753 at North is the hand of Cy Marlow (cy), whose number is 3333: "
                "the reader holds the name 'Cy Marlow' beside 9753" + ONCE_SEEN.format("3333"),
            )
        ],
    ),
    "zeros that the reader lost are exchanged": (
        [ANA, BEN, CY | {"number": "0333"}],
        [*SUPERVISORS, *listed("333")],
        [],
        [
            (
                action,
                number,
                "cy",
                "Cy Marlow",
                "333 at North is the hand of Cy Marlow (cy), whose number is 0333: "
                f"333 is 0333 without the zeros in front{seen}",
            )
            for action, number, seen in (("enrol", "0333", ""), ("remove", "333", ONCE_SEEN.format("0333")))
        ],
    ),
    "zeros that the roster lost are put right there": (
        [ANA, BEN, CY | {"number": "333"}],
        [*SUPERVISORS, *listed("0333")],
        [],
        [],
    ),
    "zeros that only a log shows are nothing to do at the reader": (
        [ANA, BEN, CY | {"number": "0333"}],
        [*SUPERVISORS, *listed("0333")],
        ["333"],
        [],
    ),
    "another's hand under a number": (
        [ANA, BEN, CY, DORA],
        [*SUPERVISORS, *listed("3333", name="Dora Lindqvist")],
        [],
        [
            (
                action,
                number,
                person,
                name,
                "at North the reader holds the name 'Dora Lindqvist' beside 3333, "
                "and the roster gives 3333 to Cy Marlow (cy)",
            )
            for action, number, person, name in (
                ("enrol", "4444", "dora", "Dora Lindqvist"),
                ("enrol_again", "3333", "cy", "Cy Marlow"),
            )
        ],
    ),
    "another's hand under a number, who is enrolled under their own": (
        [ANA, BEN, CY, DORA],
        [*SUPERVISORS, *listed("3333", name="Dora Lindqvist"), *listed("4444")],
        [],
        [
            (
                "enrol_again",
                "3333",
                "cy",
                "Cy Marlow",
                "at North the reader holds the name 'Dora Lindqvist' beside 3333, "
                "and the roster gives 3333 to Cy Marlow (cy)",
            )
        ],
    ),
    "authority given and taken": (
        [ANA, BEN, CY | {"is_supervisor": True}, DORA],
        [*SUPERVISORS, *listed("3333"), *listed("4444", is_supervisor=True)],
        [],
        [
            (
                "enrol_supervisor",
                "3333",
                "cy",
                "Cy Marlow",
                "Cy Marlow (cy) is a supervisor on the roster but enrolled at North under 3333 "
                "without authority to enrol others",
            ),
            (
                "enrol_again",
                "4444",
                "dora",
                "Dora Lindqvist",
                "Dora Lindqvist (dora) is no supervisor on the roster but enrolled at North under 4444 "
                "with authority to enrol others",
            ),
        ],
    ),
    "a number of two, one yet to come, nobody's step": (
        [ANA, BEN, CY, DORA | {"number": "3333"}],
        [*SUPERVISORS],
        [],
        [],
    ),
}


@pytest.mark.parametrize(("people", "enrolments", "punches", "steps"), list(WHOLE.values()), ids=list(WHOLE))
def test_each_step_tells_what_to_do_with_whose_hand_and_why(people, enrolments, punches, steps):
    assert steps_of(people, enrolments, punches=punches).rows(named=True) == rows(*steps)


@pytest.mark.parametrize(
    ("digits", "told"),
    [(3, []), (4, ["3333"]), (None, ["3333"])],
)
def test_a_number_too_long_for_the_reader_is_left_out(digits, told):
    ana, ben = (row | {"number": row["number"][:3]} for row in (ANA, BEN))
    enrolled = [row | {"number": row["number"][:3]} for row in SUPERVISORS]
    assert steps_of([ana, ben, CY], enrolled, [{"max_digits": digits}])["number"].to_list() == told


# ---- at which reader somebody is placed

EAST, NORTH, HILL = {"reader": "East"}, {"reader": "North"}, {"reader": "Hill", "site": "Quarry"}
MATES = [CY | {"department": "Saw"}, DORA | {"department": "Saw"}, EMIL | {"department": "Kiln"}]
FAY = {"person": "fay", "name": "Fay Turner", "number": "6666", "department": "Saw"}


def both(*numbers):
    """Return two supervisors at East and at North, and these numbers at North."""
    return [row | reader for row in SUPERVISORS for reader in (EAST, NORTH)] + listed(*numbers)


PLACED = {
    "where most of the department is, though fewer hands are": (
        [ANA, BEN, *MATES, FAY],
        [*both("5555", "7777"), *listed("3333", reader="East")],
        [{}, EAST],
        [("East", "4444"), ("East", "6666")],
    ),
    "where most of all are, where no mates tell": (
        [ANA, BEN, *MATES[:2]],
        both("9753"),
        [EAST, {}],
        [("North", "3333"), ("North", "4444")],
    ),
    "the first by name, where both hold as many": ([ANA, BEN, CY], both(), [{}, EAST], [("East", "3333")]),
    "of no department, at the larger": (
        [ANA, BEN, DORA, CY | {"department": "Saw"}, EMIL],
        [*both("3333", "5555"), *listed("9753", reader="East")],
        [EAST, {}],
        [("North", "4444")],
    ),
    "where somebody may enrol others": (
        # nobody's number is short enough to enrol others at East
        [BEN | {"number": "22222"}, CY | {"department": "Saw"}, DORA | {"department": "Saw"}],
        [{"number": "22222", "is_supervisor": True}, *listed("3333", reader="East")],
        [EAST | {"max_digits": 4}, {}],
        [("North", "4444")],
    ),
    "at the site": (
        [ANA, BEN, CY],
        [*SUPERVISORS, *listed("9753", "9754", "9755", reader="Hill")],
        [HILL, {}],
        [("North", "3333")],
    ),
    "anywhere, without a site": (
        [ANA, BEN, CY | {"site": None}],
        [row | reader for row in SUPERVISORS for reader in (HILL, NORTH)],
        [HILL, {}],
        [("Hill", "3333")],
    ),
    "where there is room": (
        [ANA, BEN, CY, DORA],
        both(),
        [{}, EAST | {"capacity": 3}],
        [("East", "3333"), ("North", "4444")],
    ),
    "nowhere, where none is": (
        [ANA, BEN, CY, DORA],
        both(),
        [{"capacity": 3}, EAST | {"capacity": 2}],
        [("North", "3333")],
    ),
    "where the number fits": (
        [ANA, BEN, CY | {"number": "33333"}],
        both(),
        [{}, EAST | {"max_digits": 4}],
        [("North", "33333")],
    ),
}


@pytest.mark.parametrize(("people", "enrolments", "readers", "placed"), list(PLACED.values()), ids=list(PLACED))
def test_who_is_enrolled_nowhere_is_placed_at_one_reader(people, enrolments, readers, placed):
    steps = steps_of(people, enrolments, readers)
    enrolled = steps.filter(steps["action"] == "enrol")
    assert sorted(enrolled.select("reader", "number").rows()) == placed


def test_a_supervisor_whom_one_reader_needs_is_not_placed_at_another_too():
    # East, with more mates, has its two; North lacks one, and takes the one who is nowhere
    third = CY | {"is_supervisor": True, "department": "Saw"}
    mates = [DORA | {"department": "Saw"}]
    enrolled = [*(row | EAST for row in SUPERVISORS), *listed("4444", reader="East"), SUPERVISORS[0]]
    people = [third, ANA, BEN, *mates]
    steps = steps_of(people, enrolled, [EAST, {}])
    assert steps.rows(named=True) == rows(("enrol_supervisor", "3333", "cy", "Cy Marlow", f"Cy Marlow (cy) {TWO}"))


@pytest.mark.parametrize(
    ("one", "told"),
    [
        ({}, ["1111", "2222"]),
        ({"left_on": YESTERDAY}, ["1111"]),
        ({"hired_on": TOMORROW}, ["1111"]),
        ({"is_supervisor": False}, ["1111"]),
        ({"site": "Quarry"}, ["1111"]),
        ({"site": None}, ["1111", "2222"]),
        ({"number": None}, ["1111"]),
        ({"number": "22222"}, ["1111"]),
        ({"number": "3333"}, ["1111"]),
    ],
)
def test_a_supervisor_is_enrolled_who_is_here_of_the_site_and_alone_holds_a_number_that_fits(one, told):
    steps = steps_of([ANA, BEN | one, CY], listed("3333"), [{"max_digits": 4}])
    assert steps.filter(steps["action"] == "enrol_supervisor")["number"].to_list() == told


@pytest.mark.parametrize(
    "gone",
    [
        [],  # a number nobody holds
        [CY | {"number": "9753", "left_on": YESTERDAY}],
    ],
)
def test_whoever_cannot_come_does_not_stand_for_the_one_supervisor_who_can(gone):
    # the roster would have Dora's authority taken, but without it nobody is left who can come
    people = [DORA | {"is_supervisor": False}, *gone]
    steps = steps_of(people, listed("4444", "9753", is_supervisor=True))
    assert steps.select("action", "number").rows() == [("remove", "9753")]


# ---- the plan of one reader, and what it is made from


def test_a_plan_holds_one_enrolment_and_one_removal_of_a_number_and_counts_hands():
    plan = Plan("North", {"1": {"is_supervisor": False}, "2": {"is_supervisor": None}}, 7)
    assert not plan.is_guarded
    adds = [
        (ReaderStep("enrol", "3", "cy", "first"), 8, False),
        (ReaderStep("enrol_supervisor", "3", "cy", "second"), 8, False),
        (ReaderStep("enrol_again", "1", "ana", ""), 8, False),
        (ReaderStep("remove", "1", "ana", ""), 7, False),
        (ReaderStep("remove", "1", "ana", "again"), 7, False),
        (ReaderStep("enrol_supervisor", "4", "dora", ""), 8, True),
        (ReaderStep("enrol", "5", "emil", ""), 9, True),
    ]
    for step, hands, guarded in adds:
        plan.add(step)
        assert (plan.hands, plan.is_guarded) == (hands, guarded), step
    assert [(step.action, step.number, step.why) for step in plan.steps.values()] == [
        ("enrol", "3", "first"),
        ("enrol_again", "1", ""),
        ("remove", "1", ""),
        ("enrol_supervisor", "4", ""),
        ("enrol", "5", ""),
    ]
    assert Plan("North", {"1": {"is_supervisor": True}}, 1).is_guarded


def test_of_all_there_are_few_are_concerned():
    people, readers, enrolled, _ = frames(
        [
            ANA,
            BEN | {"site": None},
            *MATES,
            FAY,
            {"person": "gus", "name": "Gus", "number": None, "is_supervisor": True},
            {"person": "hana", "name": "Hana", "number": "8888", "is_supervisor": True, "site": "Quarry"},
        ],
        [
            *SUPERVISORS,
            *listed("3333", "4444", "9753"),
            *listed("3333", reader="Attic"),
            *listed("5555", reader="East"),
        ],
        [{}, EAST],
    )
    found = DISCREPANCIES.rows(
        [
            {"kind": "not_enrolled", "person": "fay", "number": "6666", "punches": 0, "evidence": ""},
            {"kind": "unknown_enrolment", "reader": "North", "number": "9753", "punches": 0, "evidence": ""},
            {"kind": "unproved", "reader": "North", "person": "dora", "number": "4444", "punches": 0, "evidence": ""},
        ]
    )
    of = concerned_by(roster_on(people, TODAY), readers, enrolled, found)
    assert list(of.entries) == ["ana", "ben", "fay", "hana"]
    assert (of.number("ana"), of.entries["fay"]["name"]) == ("1111", "Fay Turner")
    assert of.alone == {"1111", "2222", "6666", "8888"}
    assert of.able == ("ana", "ben", "hana")
    assert {reader: sorted(held) for reader, held in of.enrolled.items()} == {
        "North": ["1111", "2222", "9753"],
        "East": [],
    }
    assert of.enrolled["North"]["1111"] == {"reader": "North", "number": "1111", "name": None, "is_supervisor": True}
    assert of.counts == {"North": 5, "Attic": 1, "East": 1}
    assert of.mates == {("North", "Saw"): 2, ("Attic", "Saw"): 1, ("East", "Kiln"): 1}
    assert {reader: [row["kind"] for row in told] for reader, told in of.found.items()} == {
        None: ["not_enrolled"],
        "North": ["unknown_enrolment"],
    }
    for site, able in (("Mill", ["ana", "ben"]), ("Quarry", ["ben", "hana"]), (None, ["ana", "ben", "hana"])):
        assert list(of.supervisors(site)) == able
    assert concerned_by(roster_on(people, TODAY), readers, enrolled, found[1:]).mates == {}
