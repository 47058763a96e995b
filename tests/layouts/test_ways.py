"""What the marks of a log stand for is told by its pauses, or asked; never read the wrong way round."""

from datetime import datetime, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenhand.layouts import Answers, KnownCells, SourceFile, propose, read

KNOWN = KnownCells(readers=["Gate"], numbers=[f"{4100 + at}" for at in range(12)])


def log(one: str, other: str, *, days: int = 5, worked: float = 8, seed: int = 1, people: int = 12, night=False):
    """Return a log in which `one` is in and `other` out, with a pause at noon for some."""
    draw, rows = Random(seed), []
    for person in range(people):
        for day in range(days):
            begun = datetime(2026, 10, 5, 22 if night else 6) + timedelta(days=day, minutes=draw.randrange(20))
            ended = begun + timedelta(hours=worked, minutes=draw.randrange(20))
            rows += [(begun, person, one), (ended, person, other)]
            if person % 3 == 0:
                rows += [(begun + timedelta(hours=4), person, other), (begun + timedelta(hours=4.5), person, one)]
    lines = [f"Gate;{4100 + person};{at:%Y-%m-%d %H:%M:%S};{mark}" for at, person, mark in sorted(rows)]
    return SourceFile("gate.csv", ("Reader;Badge;Time;Direction\n" + "\n".join(lines)).encode())


def ways(file):
    proposal = propose(file, Answers(maps={"Direction": "direction"}), KNOWN)
    return proposal, read(file, proposal.layout, zones={"Gate": "UTC"}).frame["direction"].to_list()


@given(
    st.sampled_from([("0", "1"), ("1", "0"), ("1", "2"), ("2", "1"), ("A", "K"), ("+", "-"), ("x", "y")]),
    st.booleans(),
    st.integers(0, 99),
)
def test_two_marks_are_read_as_the_pauses_tell(marks, night, seed):
    file = log(*marks, night=night, seed=seed)
    proposal, found = ways(file)
    assert proposal.questions == ()
    assert proposal.layout.words["direction"] == {marks[0]: "in", marks[1]: "out"}
    truth, _ = zip(
        *[("in" if line.endswith(";" + marks[0]) else "out", line) for line in file.lines().to_list()[1:]], strict=True
    )
    assert found == list(truth)


@pytest.mark.parametrize(("days", "worked"), [(1, 8), (5, 12)])
def test_what_no_pause_tells_is_asked(days, worked):
    proposal, _ = ways(log("0", "1", days=days, worked=worked))
    assert {(one.about, one.subject) for one in proposal.questions} == {("words", "0"), ("words", "1")}


def test_what_is_stated_is_not_doubted():
    file = log("0", "1")
    told = propose(file, Answers(maps={"Direction": "direction"}, words={"0": "out", "1": "in"}), KNOWN)
    assert told.questions == ()
    assert told.layout.words["direction"] == {"0": "out", "1": "in"}


def test_words_of_a_language_need_no_pauses():
    proposal, found = ways(log("Kommen", "Gehen", days=1))
    assert (proposal.questions, proposal.layout.words, set(found)) == ((), {}, {"in", "out"})
