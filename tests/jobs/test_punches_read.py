"""Which punches are read for the weeks that are shown, and further back for whoever is paid for a longer time."""

from __future__ import annotations

from datetime import date
from typing import Any

import polars as pl

from evenhand.jobs.punches_read import punches_around
from evenhand.terms.columns import Frame

PUNCH = {"reader": "GATE", "at": 0, "punch": 0}


def test_a_longer_pay_reads_punches_under_every_number_that_the_person_had() -> None:
    asked: list[dict[str, Any]] = []

    def recorded_of(**given: Any) -> Frame:
        asked.append(given)
        return pl.DataFrame([PUNCH])

    held = {"person": ["P1", "P2"]}
    read = {
        "earnings": pl.DataFrame(
            {"person": ["P1"], "earned_from": [date(2026, 1, 1)], "earned_to": [date(2026, 3, 31)]}
        ),
        "people": pl.DataFrame({**held, "number": ["4401", "4402"]}),
        "former_numbers": pl.DataFrame({**held, "number": ["4101", "4102"]}),
        "corrections": pl.DataFrame({"person": ["P1", "P2"], "punch": [11, 12]}),
    }
    punches_around(recorded_of, read, date(2026, 3, 2), date(2026, 3, 8), 1)
    before = asked[-1]
    assert sorted(before["numbers"]) == ["4101", "4401"]
    assert before["punches"] == [11]
