"""The days against which proposals are measured: what is true of them holds in every family."""

from __future__ import annotations

from datetime import date

import pytest
from bench.workdays import FAMILIES, Family, days_of, spoil


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_days_run_forward_and_alternate(family: Family) -> None:
    """Every shift begins with its start, ends with its end, and goes out and in by turns between them."""
    shifts: dict[tuple[str, int], list[tuple[int, str]]] = {}
    for punch in days_of(family, people=6, weeks=10, first=date(2026, 8, 31), seed=11):
        shifts.setdefault((punch.person, punch.shift), []).append((punch.at, punch.kind))
    assert len(shifts) > 6 * 30
    for theirs in shifts.values():
        assert theirs == sorted(theirs)
        kinds = [kind for _, kind in theirs]
        assert (kinds[0], kinds[-1]) == ("start", "end")
        assert all(kind.endswith(("out", "in")[at % 2]) for at, kind in enumerate(kinds[1:-1]))


def test_every_punch_is_seen_or_lost() -> None:
    """Nothing is lost or invented but what the truth names, and only one thing goes wrong in a shift."""
    family = FAMILIES[1]
    punches = days_of(family, people=20, weeks=12, first=date(2026, 8, 3), seed=4)
    spoilt = spoil(family, punches, seed=9)
    lost = [*spoilt.missing, *spoilt.stray]
    added = [*spoilt.too_many, *spoilt.doubles]
    assert min(len(spoilt.missing), len(spoilt.stray), len(spoilt.too_many), len(spoilt.doubles)) > 5
    assert sorted(map(repr, [*spoilt.seen, *lost])) == sorted(map(repr, [*punches, *added]))
    wrong = [(punch.person, punch.shift) for punch in [*lost, *spoilt.too_many]]
    assert len(wrong) == len(set(wrong))
