"""Nobody is told to take off the only number that works for somebody: cases, and rounds played at random."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import cache

import polars as pl
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from evenhand.enrolment.rounds import round_states, waiting
from evenhand.enrolment.taking_off import HeldBack, at_readers, enrolments_awaited, turns_held
from evenhand.reconcile import roster_on, standings
from evenhand.terms.rounds import OFF_ROUND
from evenhand.terms.sources import ENROLMENTS, PEOPLE, READERS
from tests.enrolment.rounds import items, outcomes

TODAY, MORNING = date(2026, 3, 9), 1_773_036_000
DAY_S = 86_400
LISTED = {"reader": pl.String, "number": pl.String, "told_at": pl.Int64, "enrolled_at": pl.Int64}
PUNCHED = {"reader": pl.String, "number": pl.String, "at": pl.Int64, "person": pl.String}
ROSTER = PEOPLE.rows(
    [
        {"person": "P1", "name": "Tess Marrow", "number": "4101", "site": "Mill", "is_supervisor": True},
        {"person": "P2", "name": "Bram Ostler", "number": "4102", "site": "Mill"},
        {"person": "P3", "name": "Lia Quill", "number": "4103", "site": "Mill", "is_supervisor": True},
        {"person": "P4", "name": "Joss Fenn", "number": "4104", "site": "Mill", "left_on": date(2026, 2, 1)},
    ]
)
AT = READERS.rows([{"reader": "GATE", "site": "Mill", "zone": "UTC"}])


def told(entries, punches=(), people=ROSTER, told_at=MORNING - 1000, capacity=None):
    """What is known: entries (number, name, may enrol others, enrolled at), punches (number, at, person)."""
    roster = roster_on(people, TODAY)
    return known_of(standings_of(entries, roster), roster, entries, punches, told_at, capacity)


def standings_of(entries, roster):
    enrolled = ENROLMENTS.rows(
        {"reader": "GATE", "number": number, "name": name, "is_supervisor": may} for number, name, may, _ in entries
    )
    return standings(roster, AT, enrolled)


def known_of(standing, roster, entries, punches, told_at, capacity):
    rows = [("GATE", number, told_at, enrolled_at) for number, _, _, enrolled_at in entries]
    return at_readers(
        pl.DataFrame([("GATE", *one) for one in punches], schema=PUNCHED, orient="row"),
        standing,
        pl.DataFrame(rows, schema=LISTED, orient="row"),
        roster.select("person", "name", "number", gives_hand="is_here"),
        {} if capacity is None else {"GATE": capacity},
    )


SUPERVISORS = [("4101", "Tess Marrow", True, None), ("4103", "Lia Quill", True, None)]
WRONG = ("4120", "Bram Ostler", False, None)
OWN = ("4102", "Bram Ostler", False, None)
NAMELESS = ("4102", None, False)
ROUND = items(
    ("r1-1", "GATE", 1, "enrol", "P2", "4102"),
    ("r1-2", "GATE", 2, "remove", "P2", "4120"),
)
NOT_SEEN = HeldBack("unseen", "Bram Ostler", "4102")
AFTER, BEFORE = MORNING + 60, MORNING - 60


def held(known, *said, of=ROUND):
    states = round_states(of, outcomes(*said))
    return turns_held(states, states, known).held


ENROLLED = ("a", "r1-1", "enrolled", MORNING)


@pytest.mark.parametrize(
    ("entries", "punches", "told_at", "said", "why"),
    [
        ([WRONG], [], BEFORE, [], NOT_SEEN),
        ([WRONG], [], BEFORE, [ENROLLED], NOT_SEEN),  # done, and not seen
        ([WRONG], [("4102", AFTER, "P2")], BEFORE, [ENROLLED], None),
        ([WRONG], [("4102", BEFORE, "P2")], BEFORE - 9, [ENROLLED], NOT_SEEN),  # that was before the enrolment
        ([WRONG], [("4102", AFTER, "P4")], BEFORE, [ENROLLED], NOT_SEEN),  # somebody else's punch
        ([WRONG, OWN], [], AFTER, [ENROLLED], None),  # the reader's list
        ([WRONG, OWN], [], BEFORE, [ENROLLED], NOT_SEEN),  # a list of before it
        ([WRONG, OWN], [], AFTER, [("a", "r1-1", "try_again", MORNING)], NOT_SEEN),
        ([WRONG, OWN], [], AFTER, [ENROLLED, ("b", "r1-1", "undone", AFTER)], NOT_SEEN),
        ([WRONG, OWN], [("4120", AFTER + 9, "P2")], AFTER, [ENROLLED], NOT_SEEN),  # the other is used still
        ([WRONG, (*NAMELESS, None)], [], AFTER, [ENROLLED], NOT_SEEN),  # whose hand it is, is not told
        ([WRONG, (*NAMELESS, None)], [("4102", AFTER, "P2")], AFTER, [ENROLLED], None),
        ([WRONG, (*NAMELESS, None)], [("4120", BEFORE, "P2")], BEFORE, [], NOT_SEEN),  # whose it is was never told
        ([WRONG, (*NAMELESS, None)], [("4102", BEFORE, "P2")], BEFORE, [], None),
        (
            [WRONG, (*NAMELESS, MORNING)],
            [("4102", BEFORE, "P2")],
            AFTER,
            [],
            NOT_SEEN,
        ),  # of before the list's enrolment
        ([WRONG, OWN], [("4120", BEFORE, "P2")], BEFORE, [], NOT_SEEN),  # an enrolment that nothing has proved
        (
            [WRONG, OWN],  # nothing happened at the reader
            [("4102", BEFORE, "P2")],
            BEFORE,
            [("a", "r1-1", "did_not_come", MORNING)],
            None,
        ),
        (
            [WRONG, OWN],
            [],
            BEFORE,
            [("a", "r1-1", "try_again", MORNING), ("b", "r1-1", "did_not_come", AFTER)],
            NOT_SEEN,
        ),
        ([WRONG], [("4102", AFTER, "P2")], AFTER + 9, [ENROLLED], NOT_SEEN),  # a later list shows it no longer
        ([WRONG, ("4102", "Lia Quill", False, None)], [("4102", AFTER, "P2")], BEFORE, [], NOT_SEEN),  # another's hand
        ([WRONG, ("4102", "Joss Fenn", False, None)], [], BEFORE, [], NOT_SEEN),  # of whoever had the number and left
        ([WRONG, ("4102", "OSTLER", False, None)], [("4102", BEFORE, "P2")], BEFORE, [], None),
        ([WRONG, ("4102", "BRAMMY", False, None)], [("4102", BEFORE, "P2")], BEFORE, [], None),
        ([WRONG, ("4102", "BRAMMY", False, None)], [], AFTER, [ENROLLED], NOT_SEEN),  # names nobody
    ],
)
def test_a_number_goes_once_its_owner_is_seen_under_the_right_one(entries, punches, told_at, said, why):
    known = told([*SUPERVISORS, *entries], punches, told_at=told_at)
    assert held(known, *said).get("r1-2") == why


def test_a_list_tells_of_a_hand_enrolled_again_only_where_it_tells_the_day():
    again = items(("r1-1", "GATE", 1, "enrol_again", "P2", "4102"), ("r1-2", "GATE", 2, "remove", "P2", "4120"))
    day = MORNING // DAY_S * DAY_S
    for enrolled_at, why in ((None, NOT_SEEN), (day - DAY_S, NOT_SEEN), (day, None)):
        known = told([*SUPERVISORS, WRONG, (*OWN[:3], enrolled_at)], told_at=AFTER)
        assert held(known, ENROLLED, of=again).get("r1-2") == why


@pytest.mark.parametrize(
    ("item", "entry", "punches", "why"),
    [
        (("remove", None, "7777"), ("7777", None, False, None), [("7777", BEFORE, None)], HeldBack("in_use")),
        (("remove", None, "7777"), ("7777", None, False, None), [], None),
        # whose it is was found, and they are not seen under their own number
        (("remove", None, "7777"), ("7777", None, False, None), [("7777", BEFORE, "P2")], NOT_SEEN),
        (("remove", "P4", "4104"), ("4104", "Joss Fenn", False, None), [("4104", BEFORE, "P4")], None),  # who left
        (("remove", "P4", "4104"), ("4104", None, False, None), [("4104", BEFORE, None)], HeldBack("in_use")),
        (("remove", "P2", "4102"), OWN, [], HeldBack("own", "Bram Ostler", "4102")),
        # another's hand is under the number that is to be enrolled again
        (("enrol_again", "P3", "4103"), ("4103", "Bram Ostler", True, None), [], NOT_SEEN),
        (("enrol", "P2", "4102"), ("7777", None, False, None), [], None),
    ],
)
def test_whoever_may_be_under_a_number_counts(item, entry, punches, why):
    action, person, number = item
    known = told([SUPERVISORS[0], entry], punches)
    assert held(known, of=items(("r1-1", "GATE", 1, action, person, number))).get("r1-1") == why


def test_a_number_without_an_owner_on_the_roster_that_is_theirs_alone_stays():
    people = ROSTER.with_columns(number=pl.when(pl.col("person") == "P2").then(None).otherwise("number"))
    known = told([*SUPERVISORS, WRONG], people=people)
    assert held(known)["r1-2"] == HeldBack("no_number", "Bram Ostler")


def test_the_number_beside_the_name_of_somebody_without_one_stays():
    people = ROSTER.with_columns(number=pl.when(pl.col("person") == "P2").then(None).otherwise("number"))
    known = told([*SUPERVISORS, WRONG], people=people)
    nobodys = items(("r1-1", "GATE", 1, "remove", None, "4120"))
    assert held(known, of=nobodys)["r1-1"] == HeldBack("no_number", "Bram Ostler")


@pytest.mark.parametrize(
    ("other", "name", "why"),
    [
        (None, None, "last_supervisor"),
        ("4104", "Joss Fenn", "last_supervisor"),
        ("4103", None, "last_supervisor"),  # whose hand that is, nobody has seen
        ("4103", "Lia Quill", None),
    ],
)
def test_the_last_supervisor_who_stays_is_not_taken_off(other, name, why):
    leaving = ROSTER.with_columns(left_on=pl.when(pl.col("person") == "P1").then(date(2026, 3, 1)).otherwise("left_on"))
    entries = [("4101", "Tess Marrow", True, None), *([(other, name, True, None)] if other else [])]
    found = held(told(entries, people=leaving), of=items(("r1-1", "GATE", 1, "remove", "P1", "4101")))
    assert (found["r1-1"].why if found else None) == why


def test_what_enrols_whoever_may_be_under_a_number_is_awaited():
    assert enrolments_awaited(ROUND, told([*SUPERVISORS, WRONG])) == {"r1-2": ["r1-1"]}


SWAPPED = [("4102", "Lia Quill", False, None), ("4103", "Bram Ostler", False, None)]
SWAP = items(
    ("r1-1", "GATE", 1, "enrol_again", "P2", "4102"),
    ("r1-2", "GATE", 2, "enrol", "P1", "4101"),
    ("r1-3", "GATE", 3, "enrol_again", "P3", "4103"),
)


def turns(known, *said, of):
    states = round_states(of, outcomes(*said))
    found = turns_held(states, states, known)
    return found, waiting(states, "GATE", found.held, first=found.begun)["item"].to_list()


def test_hands_under_each_others_numbers_are_enrolled_in_one_visit():
    known = told([("4120", "Tess Marrow", True, None), *SWAPPED])
    found, order = turns(known, of=SWAP)
    assert found.held == {}
    assert found.together == {"r1-1": ("r1-1", "r1-3"), "r1-3": ("r1-1", "r1-3")}
    assert order == ["r1-1", "r1-2", "r1-3"]
    # once one of them is enrolled the other's hand may be off: theirs is next
    found, order = turns(known, ENROLLED, of=SWAP)
    assert (order, found.begun) == (["r1-3", "r1-2"], {"r1-3"})
    # also where nothing came of it at last
    assert turns(known, ("a", "r1-1", "cannot", MORNING), of=SWAP)[1][0] == "r1-3"


@pytest.mark.parametrize("absent", ["did_not_come", "passed_over"])
def test_the_others_of_a_ring_wait_for_whoever_was_called_and_was_not_there(absent):
    known = told([("4120", "Tess Marrow", True, None), *SWAPPED])
    away = ("a", "r1-1", absent, MORNING)
    found, order = turns(known, away, of=SWAP)
    assert found.held == {"r1-3": HeldBack("unseen", "P2", "4102")}
    assert (order, found.together["r1-3"]) == (["r1-2", "r1-1"], ("r1-1", "r1-3"))
    # nor is a ring of which two were away left without a turn: whoever was away least is called again
    assert turns(known, away, ("b", "r1-3", "did_not_come", MORNING + 1), of=SWAP)[1] == ["r1-2", "r1-1"]
    # once a hand may have come off nobody of them waits, and whoever may be without is next
    tried = [("a", "r1-1", "try_again", MORNING), ("b", "r1-1", absent, MORNING + 1)]
    found, order = turns(known, *tried, of=SWAP)
    assert (found.held, order[0]) == ({}, "r1-3")


def test_a_turn_waits_where_another_of_its_ring_was_taken_off_the_round():
    known = told([("4120", "Tess Marrow", True, None), *SWAPPED])
    states = round_states(SWAP, outcomes(("a", "r1-3", "not_done", MORNING)))
    off = states.with_columns(reason=pl.when(pl.col("item") == "r1-3").then(pl.lit(OFF_ROUND)))
    found = turns_held(off, off, known)
    assert (found.held.keys(), found.together) == ({"r1-1"}, {})
    # put aside at the reader before a hand was laid down it waits likewise; the ring is known, should it be put back
    found = turns_held(states, states, known)
    assert found.held == {"r1-1": HeldBack("unseen", "P3", "4103")}
    assert (found.begun, found.together["r1-1"]) == (frozenset(), ("r1-1", "r1-3"))
    back = [("a", "r1-3", "not_done", MORNING), ("b", "r1-3", "undone", MORNING + 1)]
    assert turns(known, *back, of=SWAP)[0].held == {}
    assert turns(known, *back, of=SWAP)[1] == ["r1-1", "r1-2", "r1-3"]
    # put aside after a try it has begun, and then the other's hand is off: theirs is the next turn
    tried = [("a", "r1-3", "try_again", MORNING), ("b", "r1-3", "not_done", MORNING + 1)]
    found, order = turns(known, *tried, of=SWAP)
    assert (found.held, found.begun, order[0]) == ({}, {"r1-1"}, "r1-1")


def test_whoever_waits_on_two_that_wait_on_each_other_is_told_so_and_what_else_holds_two_back_goes_first():
    third = ("4105", "Lia Quill", False, None)
    more = ROSTER.vstack(
        PEOPLE.rows([{"person": "P5", "name": "Ida Vale", "number": "4105", "site": "Mill"}]).select(ROSTER.columns)
    )
    of = items(
        ("r1-1", "GATE", 1, "enrol_again", "P2", "4102"),
        ("r1-2", "GATE", 2, "enrol_again", "P3", "4103"),
        ("r1-3", "GATE", 3, "enrol_again", "P5", "4105"),
    )
    entries = [("4101", "Tess Marrow", True, None), *SWAPPED, third]
    found, _ = turns(told(entries, people=more), of=of)
    assert found.held == {"r1-3": HeldBack("unseen", "Lia Quill", "4103")}
    assert found.together.keys() == {"r1-1", "r1-2"}
    # one of the two may be the last to enrol others: that is the reason to tell, and the other waits for it
    alone = [("4102", "Lia Quill", True, None), SWAPPED[1]]
    found, _ = turns(told(alone, people=more), of=of)
    assert found.together == {}
    assert found.held == {"r1-1": HeldBack("last_supervisor"), "r1-2": NOT_SEEN}


def test_nobody_is_called_to_a_full_reader_before_a_number_that_may_go_has_come_off():
    of = items(
        ("r1-1", "GATE", 1, "enrol", "P2", "4102"),
        ("r1-2", "GATE", 2, "remove", None, "7777"),
        ("r1-3", "GATE", 3, "enrol", "P3", "4103"),
        ("r1-4", "GATE", 4, "remove", "P4", "4104"),
    )
    listed = [("4101", "Tess Marrow", True, None), ("7777", None, False, None), ("4104", "Joss Fenn", False, None)]
    known = told(listed, [("7777", BEFORE, None)], capacity=3)
    found, order = turns(known, of=of)
    # the first number may be somebody's, so the second is taken off first
    assert {item: why.why for item, why in found.held.items()} == {"r1-1": "full", "r1-2": "in_use", "r1-3": "full"}
    assert order == ["r1-4"]
    gone = ("a", "r1-4", "removed", MORNING)
    assert turns(known, gone, of=of)[1] == ["r1-1"]
    assert turns(known, gone, ("b", "r1-1", "enrolled", AFTER), of=of)[1] == []
    assert turns(known, gone, ("b", "r1-1", "passed_over", AFTER), of=of)[1] == ["r1-3"]
    assert turns(told(listed, capacity=4), of=of)[1] == ["r1-1", "r1-2", "r1-3", "r1-4"]


def test_nobody_is_called_before_a_number_that_was_just_passed_over_where_it_makes_their_place():
    of = items(
        ("r1-1", "GATE", 1, "enrol", "P2", "4102"),
        ("r1-2", "GATE", 2, "remove", "P4", "4104"),
        ("r1-3", "GATE", 3, "enrol", "P3", "4103"),
    )
    listed = [("4101", "Tess Marrow", True, None), ("4104", "Joss Fenn", False, None)]
    known = told(listed, [("4104", BEFORE, "P4")], capacity=2)
    # once the first, who finds no place, is left out the number just passed over would let the third go before it
    away, later = ("a", "r1-3", "did_not_come", MORNING), ("b", "r1-2", "passed_over", AFTER)
    found, order = turns(known, away, later, of=of)
    assert order == ["r1-2"]
    assert {item: why.why for item, why in found.held.items()} == {"r1-1": "full", "r1-3": "full"}


def test_the_number_that_somebody_was_just_enrolled_under_is_not_taken_off_where_no_list_tells_of_it_yet():
    of = items(("r1-1", "GATE", 1, "enrol", "P2", "4102"), ("r1-2", "GATE", 2, "remove", "P4", "4102"))
    # the hand under it came off for the first try, a list was taken then, and they were enrolled after it
    known = told(SUPERVISORS, told_at=MORNING + 30)
    failed, done = ("a", "r1-1", "try_again", MORNING), ("b", "r1-1", "enrolled", AFTER)
    assert held(known, failed, done, of=of) == {"r1-2": HeldBack("own", "Bram Ostler", "4102")}
    # nor by a phone that has not heard of it
    assert enrolments_awaited(of, known)["r1-2"] == ["r1-1"]


# ---- rounds at random, on a reader whose hands only the test knows


@dataclass
class Gate:
    """The reader as it is: whose hand is under each number; and what is told of it."""

    hands: dict[str, str]
    named: set[str]
    owners: dict[str, str]
    entries: list = field(default_factory=list)
    told_at: int = MORNING - 1000
    capacity: int | None = None
    displaced: set = field(default_factory=set)
    punches: list = field(default_factory=list)

    def listed(self, at, hands=None):
        content = self.hands if hands is None else hands
        self.told_at = at
        self.entries = [
            (
                number,
                NAMES[person] if number in self.named else None,
                person == "P1",
                None,
            )
            for number, person in sorted(content.items())
        ]

    def punch(self, person, at):
        for number, hand in self.hands.items():
            # Somebody who left and has a hand under another's number, without a name, never clocks.
            if hand == person and (person not in GONE or number in self.named):
                whose = next((one for one, own in self.owners.items() if own == number), None)
                self.punches.append((number, at, whose))

    def lose(self, number, but=None, beside=()):
        """Take the hand under a number off; whoever is employed must have their own number there, or stand beside."""
        person = self.hands.pop(number, None)
        if person is None or person == but or person in GONE:
            return
        if person in beside and self.hands.get(self.owners[person]) != person:
            self.displaced.add(person)
            return
        assert self.hands.get(self.owners[person]) == person, f"{person} worked with {number} alone"


NAMES = {
    "P1": "Tess Marrow",
    "P2": "Bram Ostler",
    "P3": "Lia Quill",
    "P4": "Joss Fenn",
    "P5": "Ida Vale",
    "P6": "Oren Sedge",
}
GONE = {"P4"}
PEOPLE_AT_GATE = PEOPLE.rows(
    {
        "person": person,
        "name": name,
        "number": None if person == "P6" else f"410{person[1]}",
        "site": "Mill",
        "is_supervisor": person in ("P1", "P5"),
        "left_on": date(2026, 2, 1) if person in GONE else None,
    }
    for person, name in NAMES.items()
)
ROSTER_AT_GATE = roster_on(PEOPLE_AT_GATE, TODAY)
OWNERS = dict(PEOPLE_AT_GATE.select("person", "number").iter_rows())
UNTOUCHED = ("passed_over", "did_not_come")


@cache  # a list is taken seldom, and to tell whose its lines are takes most of a game
def _standing_there(entries):
    return standings_of(entries, ROSTER_AT_GATE)


@st.composite
def gates(draw):
    hands = {"4101": "P1"}
    ring = draw(st.sampled_from([(), (), ("P2", "P3"), ("P2", "P3", "P5")]))  # each under the next one's number
    hands |= {OWNERS[after]: person for person, after in zip(ring, ring[1:] + ring[:1], strict=True)}
    wrong = draw(st.permutations(["4102", "4103", "4104", "4105", "4120", "4130", "9999"]))
    for person, other in zip(["P2", "P3", "P4", "P5"], wrong, strict=False):
        if person in ring:
            continue
        at = draw(st.sampled_from(["own", "other", "both", "nowhere"]))
        for number in ([OWNERS[person]] if at in ("own", "both") else []) + (
            [other] if at in ("other", "both") else []
        ):
            hands.setdefault(number, person)
    named = set(draw(st.lists(st.sampled_from(sorted(hands)))))
    # A hand that clocks under somebody else's number, and that no list names, nothing there is tells from its owner's.
    anothers = {number for number, person in hands.items() if number in OWNERS.values() and OWNERS[person] != number}
    named |= {number for number in anothers if hands[number] not in GONE}
    if draw(st.booleans()):
        hands["5500"] = "P6"
        named |= set(draw(st.sampled_from([(), ("5500",)])))
    gate = Gate(
        hands, named, OWNERS, capacity=draw(st.sampled_from([None, *(len(hands) + free for free in (0, 0, 1, 2))]))
    )
    gate.listed(MORNING - 1000)
    idle = draw(st.sets(st.sampled_from(sorted(NAMES)))) - {person for one, person in hands.items() if one not in named}
    for person in sorted(NAMES.keys() - idle):  # whoever has a hand there works with it, or a list names them
        gate.punch(person, MORNING - draw(st.integers(1500, 5000)))
    rows = [("enrol_again" if OWNERS[one] in hands else "enrol", one, OWNERS[one]) for one in ("P2", "P3", "P5")]
    rows += [("remove", draw(st.sampled_from([None, hands[number], "P2"])), number) for number in sorted(hands)]
    order = draw(st.permutations(rows))
    return gate, items(*((f"r1-{n}", "GATE", n, *row) for n, row in enumerate(order, start=1)))


DEEDS = st.lists(
    st.tuples(
        st.sampled_from(["turn"] * 8 + ["punch", "list", "earlier list", "found"]),
        st.sampled_from(["done", "done", "failed", "lost", "wrong number", *UNTOUCHED, *UNTOUCHED, "put back"]),
        st.sampled_from(sorted(NAMES)),
    ),
    min_size=15,
    max_size=40,
)


@settings(max_examples=200, deadline=None)
@given(gates(), DEEDS)
def test_played_at_random_no_turn_takes_off_the_only_number_that_works(place, deeds):
    gate, of = place
    said, before = [], dict(gate.hands)
    for n, (deed, comes, who) in enumerate(deeds):
        at = MORNING + 60 * n
        if deed == "punch":
            gate.punch(who, at)
        elif deed == "turn":
            _turn(gate, of, said, comes, f"o{n:03d}", at)
        elif gate.displaced:
            continue  # a visit is a matter of minutes
        elif deed == "list":
            gate.listed(at)
            before = dict(gate.hands)
        elif deed == "earlier list":  # made before what was done meanwhile, taken after it
            gate.listed(at, before)
        elif deed == "found":  # a person says whose punches those under nobody's number are
            gate.punches = [
                (number, when, whose or gate.hands.get(number, before.get(number)))
                for number, when, whose in gate.punches
            ]


def _turn(gate, of, said, comes, outcome, at):
    states = round_states(of, outcomes(*said))
    standing = _standing_there(tuple(gate.entries))
    known = known_of(standing, ROSTER_AT_GATE, gate.entries, gate.punches, gate.told_at, gate.capacity)
    found = turns_held(states, states, known)
    order = waiting(states, "GATE", found.held, first=found.begun).to_dicts()
    of_item = {row["item"]: row for row in states.to_dicts()}
    _leads_out(found, of_item)
    left = {row["person"] for row in order}
    closed = {row["person"] for row in of_item.values() if row["result"] in ("cannot", "not_done")}
    stranded = gate.displaced - left - closed
    assert not stranded, f"{stranded} have no number that works, and no turn"
    if not order:
        return
    turn = order[0]
    ring = [of_item[item] for item in found.together.get(turn["item"], ())]
    if ring:
        event("hands under each other's numbers")
        _spares_whoever_is_away(gate, turn, ring)
        if comes == "wrong number":
            comes = "failed"  # each keys the own number at once, and is refused
    elif turn["action"] == "enrol" and gate.capacity is not None:
        event("a reader that may be full")
        there = {entry[0] for entry in gate.entries}
        for row in sorted(of_item.values(), key=lambda row: row["at"] or 0):
            there = there | {row["number"]} if row["result"] == "enrolled" else there
            there = there - {row["number"]} if row["result"] == "removed" else there
        assert turn["number"] in there or len(there) < gate.capacity, "called where there is no place"
    if comes == "put back":  # a slip of the finger, undone at once
        slip = "removed" if turn["action"] == "remove" else "enrolled"
        said += [(outcome, turn["item"], slip, at), (f"{outcome}-back", turn["item"], "undone", at + 1)]
        return
    said.append((outcome, turn["item"], _do(gate, turn, comes, {row["person"] for row in ring}), at))


def _spares_whoever_is_away(gate, turn, ring):
    """Nobody is called to a number with the only hand of somebody away, but who has lost their own or was away."""
    stands = gate.hands.get(turn["number"])
    away = {row["person"] for row in ring if row["result"] in (*UNTOUCHED, "not_done")} - gate.displaced
    if stands in away - {turn["person"]} and turn["person"] not in gate.displaced and not turn["laid_down"]:
        assert turn["person"] in away, f"{turn['person']} is called to where the hand of {stands} is, who is away"


def _leads_out(found, of_item):
    """No turn that waits is told a reason that leads back to it."""
    enrols = {row["person"]: item for item, row in of_item.items() if row["action"] != "remove"}
    for first in found.held:
        item, seen = first, []
        while item in found.held and found.held[item].why == "unseen":
            assert item not in seen, f"{seen} wait on each other"
            seen.append(item)
            item = enrols.get(found.held[item].person)


def _do(gate, turn, comes, beside):
    """Do at the reader what the turn says, as it comes, and return what is tapped; those `beside` it are there too."""
    number, person = turn["number"], turn["person"]
    if comes in UNTOUCHED:
        return comes
    if turn["action"] == "remove":
        event("a number is taken off")
        gate.lose(number)
        return "removed"
    if turn["action"] == "enrol_again" or number in gate.hands:
        gate.lose(number, but=person, beside=beside)
    if comes == "done":
        gate.hands[number] = person
        gate.displaced.discard(person)
    if comes == "wrong number":
        gate.hands.setdefault("5555", person)
    event(comes)
    return {"done": "enrolled", "wrong number": "enrolled", "failed": "try_again"}.get(comes, "cannot")
