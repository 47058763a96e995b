"""Headers of lists that were written from general knowledge are told by their words."""

from __future__ import annotations

import pytest
from bench.wording import LISTS, outcomes

RIGHTLY, AMISS = 0.9, 0.06


@pytest.mark.parametrize("part", list(LISTS))
def test_most_headers_are_told_rightly_and_few_as_another_column(part: str) -> None:
    found = [told for *_, told in outcomes(part)]
    assert len(found) > 3_000
    assert found.count("right") > RIGHTLY * len(found)
    assert len(found) - found.count("right") - found.count("nothing") < AMISS * len(found)
