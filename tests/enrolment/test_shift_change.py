"""The line at shift change, from punches."""

from __future__ import annotations

import numpy as np

from evenhand.enrolment.queueing.shift_change import arrivals_of, rushes, service_times, stagger
from evenhand.terms.tables import RECORDED

SEVEN = 1_773_039_600  # 2026-03-09T07:00Z


def _recorded(*punches):
    return RECORDED.rows(
        {"punch": n, "reader": reader, "number": str(100 + n), "at": SEVEN + at}
        for n, (reader, at) in enumerate(punches)
    )


def test_the_gaps_of_a_busy_minute_tell_how_long_one_person_takes() -> None:
    busy = [("GATE", at) for at in (0, 8, 16, 25, 33, 41)]  # gaps 8, 8, 9, 8, 8
    quiet = [("GATE", 3600), ("GATE", 3607), ("BACK", 0), ("BACK", 9)]
    found = service_times(_recorded(*busy, *quiet))
    assert list(found) == ["GATE"]
    assert (found["GATE"].typical_s, found["GATE"].gaps) == (8.0, 5)


def test_a_run_of_people_waited_between_nothing_and_since_its_start() -> None:
    # Ten people 8 s apart at one reader that takes 8 s: nobody need have waited, and at most the tenth
    # waited 72 s, all together 8 + 16 + ... + 72 = 360 s.
    run = [("GATE", 8 * n) for n in range(10)]
    (row,) = rushes(_recorded(*run, ("GATE", 900)), ["GATE"], 8.0).to_dicts()
    assert (row["people"], row["least_lost_s"], row["most_lost_s"], row["most_p95_s"]) == (10, 0, 360, 72)
    assert (row["starts"], row["ends"]) == (SEVEN, SEVEN + 72)


def test_two_readers_that_share_a_line_are_one_row() -> None:
    run = [(reader, 8 * n + shift) for n in range(5) for reader, shift in (("A", 0), ("B", 4))]
    (row,) = rushes(_recorded(*run), ["A", "B"], 8.0).to_dicts()
    assert (row["people"], row["least_lost_s"]) == (10, 0)


def test_a_break_ends_a_run_and_a_few_people_are_none() -> None:
    run = [("GATE", at) for at in (0, 8, 16, 24, 32, 50, 58, 66)]
    assert rushes(_recorded(*run), ["GATE"], 8.0)["people"].to_list() == [5]
    assert rushes(_recorded(), ["GATE"], 8.0).is_empty()


def test_the_people_of_a_rush_come_back_as_arrivals() -> None:
    recorded = _recorded(*[("GATE", 8 * n) for n in range(6)])
    (row,) = rushes(recorded, ["GATE"], 8.0).to_dicts()
    assert (arrivals_of(recorded, ["GATE"], row, 8.0) - SEVEN).tolist() == [-8, 0, 8, 16, 24, 32]


def test_two_groups_a_minute_or_two_apart_keep_most_waits_short() -> None:
    # 20 people at once, 10 s each at one reader: the 19th waits 180 s. Two groups of ten need 90 s each, so with
    # two minutes between them the ninth of each waits 80 s and the tenth 90 s: 95 % of 20 is the 19th, 90 s.
    everybody = np.zeros(20)
    assert stagger(everybody, 10, 1, 180, groups=2) == 0
    assert stagger(everybody, 10, 1, 90, groups=2) == 120
    assert stagger(everybody, 10, 1, 5, groups=2) is None
    assert stagger(np.zeros(0), 10, 1, 5, groups=2) == 0
