"""Four hands in a ring, each under the next one's number: who is called, and who waits for whom, as it goes on."""

from __future__ import annotations

import pytest

from evenhand.enrolment.rounds import round_states
from evenhand.enrolment.waiting_on import displaced, missed_by
from tests.enrolment.rounds import items, outcomes

WHO = {"Lenn": "r-1", "Quill": "r-2", "Petra": "r-3", "Hobart": "r-4"}
OF = items(*((item, "GATE", n, "enrol_again", who, f"410{n}") for n, (who, item) in enumerate(WHO.items(), start=1)))
# under Lenn's number stands the hand of Hobart, under his that of Petra, under hers Quill's, under Quill's Lenn's
TAKES = {"r-1": ("r-4",), "r-4": ("r-3",), "r-3": ("r-2",), "r-2": ("r-1",)}


@pytest.mark.parametrize(
    ("said", "off", "missed"),
    [
        ([], "", {}),
        # nobody has begun: all wait for whoever is away, who is called again
        ([("Quill", "did_not_come")], "", {"Lenn": "Quill", "Petra": "Quill", "Hobart": "Quill"}),
        (
            [("Quill", "passed_over"), ("Petra", "did_not_come")],
            "",
            dict.fromkeys(("Lenn", "Petra", "Hobart"), "Quill"),
        ),
        # a slip that was undone has not begun it
        (
            [("Lenn", "enrolled"), ("Lenn", "undone"), ("Lenn", "not_done")],
            "",
            dict.fromkeys(("Quill", "Petra", "Hobart"), "Lenn"),
        ),
        # whose hand came off is next; under Petra's number stands the only hand of Quill, who is away
        ([("Lenn", "enrolled"), ("Quill", "did_not_come")], "Hobart", {"Petra": "Quill"}),
        # whoever may have lost their own waits for nobody, also where somebody of the ring went away afterwards
        ([("Lenn", "enrolled"), ("Petra", "enrolled"), ("Hobart", "not_done")], "Hobart Quill", {}),
        ([("Lenn", "try_again"), ("Lenn", "passed_over")], "Hobart", {"Quill": "Lenn"}),
    ],
)
def test_nobody_is_called_to_the_only_hand_of_somebody_away_and_whoever_lost_theirs_is_next(said, off, missed):
    taps = (("abcdef"[n], WHO[who], result, 1000 + n) for n, (who, result) in enumerate(said))
    ring = round_states(OF, outcomes(*taps)).to_dicts()
    assert displaced(ring, TAKES) == {WHO[who] for who in off.split()}
    assert {item: row["person"] for item, row in missed_by(ring, TAKES)} == {
        WHO[who]: away for who, away in missed.items()
    }


def test_of_those_away_who_would_wait_for_each_other_for_good_one_is_called_again():
    takes = {"r-1": ("r-2",), "r-2": ("r-3",), "r-3": ("r-2",), "r-4": ("r-1",)}  # two hands under the second number
    said = [("a", "r-4", "enrolled", 1), ("b", "r-2", "passed_over", 2), ("c", "r-3", "did_not_come", 3)]
    ring = round_states(OF, outcomes(*said)).to_dicts()
    assert displaced(ring, takes) == {"r-1"}
    assert {item: row["person"] for item, row in missed_by(ring, takes)} == {"r-3": "Quill"}
