"""The order of acts at one reader: each is played in turn on a reader, which loses none of its last two supervisors."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from evenhand.reconcile.ordering import HeldNumbers, ReaderStep, in_safe_order


def step(said):
    """Return an act from words: 'enrol 1', 'supervisor 1', 'again 1', 'remove 1' or 'remove 1 for 2'."""
    action, number, *rest = said.split()
    names = {"supervisor": "enrol_supervisor", "again": "enrol_again"}
    return ReaderStep(names.get(action, action), number, None, "", instead=rest[1] if rest else None)


def told(done):
    short = {"enrol_supervisor": "supervisor", "enrol_again": "again"}
    return [
        f"{short.get(one.action, one.action)} {one.number}" + (f" for {one.instead}" if one.instead else "")
        for one in done
    ]


def ordered(steps, held, *, gone="", capacity=None):
    """Order acts on a reader that holds e.g. '1* 2', where a star marks authority."""
    authority = {number.strip("*"): number.endswith("*") for number in held.split()}
    return told(
        in_safe_order([step(said) for said in steps], HeldNumbers(authority, frozenset(gone.split()), capacity))
    )


def test_supervisors_come_first_then_enrolments_then_hands_again_then_removals_and_each_by_number():
    steps = ["remove 5 for 7", "remove 6", "again 4", "enrol 9", "enrol 7", "supervisor 3", "supervisor 2", "again 1"]
    assert ordered(steps, "1 2 4 5 6 8*") == [
        "supervisor 2",
        "supervisor 3",
        "enrol 7",
        "enrol 9",
        "again 1",
        "again 4",
        "remove 6",
        "remove 5 for 7",
    ]


def test_a_hand_already_there_gets_its_authority_before_another_supervisor_is_enrolled():
    assert ordered(["supervisor 1", "supervisor 2"], "2 3*") == ["supervisor 2", "supervisor 1"]


@pytest.mark.parametrize(
    ("steps", "held", "gone", "done"),
    [
        (["enrol 2"], "1", "", []),  # nobody there may enrol anybody
        (["enrol 2"], "1*", "", ["enrol 2"]),
        (["again 1"], "1 2", "", []),
        (["again 1"], "1 2*", "", ["again 1"]),
        (["again 1"], "1* 2", "", []),  # its authority would go, and nobody else has any
        (["again 1"], "1* 2*", "", ["again 1"]),
        (["again 1"], "1* 2*", "2", []),  # the other has left and cannot come
        (["again 1"], "2*", "", []),  # there is no such hand
        (["supervisor 1"], "1*", "", []),  # a hand is taken off before it is laid down anew
        (["supervisor 1"], "1* 2*", "", ["supervisor 1"]),
        (["supervisor 1"], "1* 2*", "2", []),
        (["supervisor 1"], "", "", ["supervisor 1"]),  # the first makes himself one
        (["remove 1"], "1 2", "", []),
        (["remove 1"], "1 2*", "", ["remove 1"]),
        (["remove 1"], "1* 2*", "", []),  # two stand on every reader
        (["remove 1"], "1* 2* 3*", "", ["remove 1"]),
        (["remove 1"], "1* 2* 3*", "2", []),
        (["remove 1", "supervisor 3"], "1* 2*", "", ["supervisor 3", "remove 1"]),
        (["remove 1", "remove 2"], "1* 2* 3* 4*", "1 2", ["remove 1", "remove 2"]),
        (["remove 1", "remove 2"], "1* 2* 3*", "1 2", ["remove 1", "remove 2"]),  # neither can come
        (["remove 1", "remove 2"], "1* 2*", "1 2", []),
        (["remove 1"], "2*", "", []),
        (["remove 1 for 3"], "1 2*", "", []),  # the right number is nowhere to be enrolled
        (["remove 1 for 2"], "1 2*", "", ["remove 1 for 2"]),
        (["remove 1 for 3", "enrol 3"], "1 2*", "", ["enrol 3", "remove 1 for 3"]),
        (["remove 1 for 3", "supervisor 3"], "1*", "", ["supervisor 3", "remove 1 for 3"]),
        (["remove 1", "again 2"], "1* 2* 3", "", ["again 2"]),  # whoever is left alone with authority stays
    ],
)
def test_an_act_that_would_leave_nobody_to_enrol_others_waits_for_ever(steps, held, gone, done):
    assert ordered(steps, held, gone=gone) == done


@pytest.mark.parametrize(
    ("steps", "held", "gone", "capacity", "done"),
    [
        (["enrol 3", "remove 2"], "1* 2", "2", 2, ["remove 2", "enrol 3"]),
        (["enrol 3", "remove 2"], "1* 2", "2", 3, ["enrol 3", "remove 2"]),
        (["enrol 3"], "1* 2", "", 2, []),
        (["supervisor 3"], "1* 2", "", 2, []),
        (["supervisor 2"], "1* 2", "", 2, ["supervisor 2"]),  # it has its place already
        # full and nobody there may enrol: a dead number makes room for the first supervisor
        (["supervisor 3", "remove 2"], "1 2", "2", 2, ["remove 2", "supervisor 3"]),
        (["supervisor 3", "remove 9"], "1 2", "", 2, []),
        # a wrong number that works makes no room for the right one, which nobody knows yet to work
        (["remove 2 for 3", "enrol 3"], "1* 2", "", 2, []),
        (["remove 2 for 3", "enrol 3"], "1* 2", "", 3, ["enrol 3", "remove 2 for 3"]),
        (["remove 2 for 3", "enrol 3"], "1 2", "", 2, []),
        (["remove 2 for 3", "enrol 3"], "1 2", "", 3, []),
        (["remove 2 for 3", "supervisor 3"], "1 2", "", 2, []),
        (["remove 2 for 3", "supervisor 4"], "1 2", "", 2, []),
        (["remove 1 for 3", "supervisor 3"], "1* 2", "", 2, []),
        (["remove 1 for 3", "supervisor 3"], "1* 2*", "2", 2, []),
        (["remove 1 for 3", "supervisor 3"], "1* 2*", "", 2, []),
        # once a dead number has made room, it goes as on any other
        (["remove 1 for 3", "enrol 3", "remove 2"], "1 2 4*", "2", 3, ["remove 2", "enrol 3", "remove 1 for 3"]),
        # a reader that lists more than it holds has no room when one is gone
        (["remove 2 for 4", "enrol 4"], "1* 2 3", "", 2, []),
        (["remove 2", "enrol 4"], "1* 2 3", "", 2, ["remove 2"]),
        (["remove 1 for 8", "remove 2 for 9", "supervisor 8", "enrol 9"], "1* 2", "", 2, []),
    ],
)
def test_on_a_full_reader_places_are_freed_one_by_one(steps, held, gone, capacity, done):
    assert ordered(steps, held, gone=gone, capacity=capacity) == done


@dataclass
class Reader:
    """A reader as the tests see it: numbers with their authority, told apart from how the order is found."""

    hands: dict[str, bool]
    gone: frozenset[str]
    capacity: int | None
    had_supervisor: bool = field(init=False)

    def __post_init__(self):
        self.had_supervisor = any(self.hands.values())

    def others_who_can_come(self, number):
        return [other for other, may in self.hands.items() if may and other != number and other not in self.gone]

    def may_go(self, number):
        """Whether the hand under the number may be taken off, for good or to be laid down anew."""
        return bool(self.others_who_can_come(number)) if self.hands[number] else any(self.hands.values())

    def has_place(self):
        return self.capacity is None or len(self.hands) < self.capacity

    def may_be_taken_off(self, number, instead):
        """Whether a removal leaves two who can come, or one where it takes away nobody who can."""
        needed = 1 if self.hands.get(instead) or number in self.gone else 2
        return len(self.others_who_can_come(number)) >= needed if self.hands[number] else any(self.hands.values())

    def can(self, one):
        there = one.number in self.hands
        if one.action == "enrol_supervisor":
            return (not self.hands[one.number] or self.may_go(one.number)) if there else self.has_place()
        if one.action == "enrol":
            return not there and any(self.hands.values()) and self.has_place()
        if one.action == "enrol_again":
            return there and self.may_go(one.number)
        goes = there and self.may_be_taken_off(one.number, one.instead)
        return goes and (one.instead is None or one.instead in self.hands)

    def do(self, one):
        most = max(len(self.hands), self.capacity or len(self.hands) + 1)
        if one.action == "remove":
            if self.hands[one.number]:
                assert self.may_be_taken_off(one.number, one.instead), "fewer than two are left"
            del self.hands[one.number]
        else:
            if one.action != "enrol_supervisor":
                assert any(self.hands.values()), "there is nobody to enrol this hand"
            self.hands[one.number] = one.action == "enrol_supervisor"
        assert len(self.hands) <= most, "more hands than the reader holds"
        self.had_supervisor |= any(self.hands.values())
        assert any(self.hands.values()) or not self.had_supervisor, "the reader is left without a supervisor"


NUMBERS = st.sampled_from("123456")


@st.composite
def readers_with_steps(draw):
    hands = draw(st.dictionaries(NUMBERS, st.booleans(), max_size=5))
    gone = frozenset(draw(st.sets(st.sampled_from(sorted(hands)))) if hands else ())
    capacity = draw(st.none() | st.integers(max(len(hands) - 1, 1), len(hands) + 2))
    enrols = st.tuples(st.sampled_from(["enrol", "enrol_supervisor", "enrol_again"]), NUMBERS, st.none())
    removes = st.tuples(st.just("remove"), NUMBERS, st.none() | NUMBERS)
    # one enrolment and one removal at most for each number, as plans have it
    said = draw(st.lists(enrols, unique_by=lambda one: one[1], max_size=5))
    said += draw(st.lists(removes.filter(lambda one: one[1] != one[2]), unique_by=lambda one: one[1], max_size=4))
    steps = [ReaderStep(action, number, None, "", instead=instead) for action, number, instead in said]
    return hands, gone, capacity, draw(st.permutations(steps))


@given(readers_with_steps())
@settings(max_examples=1500, deadline=None)
def test_played_one_by_one_no_act_does_harm_none_comes_too_soon_and_none_that_can_be_done_is_left(place):
    hands, gone, capacity, steps = place
    reader, left = Reader(dict(hands), gone, capacity), list(steps)
    done = list(in_safe_order(list(steps), HeldNumbers(dict(hands), gone, capacity)))
    for one in done:
        if not reader.can(one):
            # only the removal of a dead number goes ahead of what else waits, and makes room on a full reader
            event("room is made")
            assert (one.action, one.instead) == ("remove", None)
            assert not reader.has_place()
            assert not any(reader.can(other) for other in left), "something else could still be done"
        elif one.action != "enrol_supervisor":
            assert not any(other.action == "enrol_supervisor" and reader.can(other) for other in left)
            if one.action == "remove":
                assert not any(other.action != "remove" and reader.can(other) for other in left)
        reader.do(one)
        left.remove(one)
    event(f"{len(done)} done")
    assert not any(reader.can(one) for one in left)


@given(readers_with_steps())
@settings(max_examples=200, deadline=None)
def test_the_order_in_which_acts_are_given_does_not_matter(place):
    hands, gone, capacity, steps = place
    held = [HeldNumbers(dict(hands), gone, capacity) for _ in range(2)]
    assert list(in_safe_order(list(steps), held[0])) == list(in_safe_order(steps[::-1], held[1]))
