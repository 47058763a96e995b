"""Files as workplaces really write them, invented, with the truth of every row: made from numbers, never stored.

Each file is made from its number alone, so that the same number always gives the same bytes. `training` files may be
looked at while the reading is improved; those kept aside come from other words, places and habits.
"""

from __future__ import annotations

from collections.abc import Iterator

from bench.corpus.kit import Kit
from bench.corpus.making import make, make_all
from bench.corpus.records import AnyOf, Around, CorpusFile, Row, agrees

__all__ = ["PARTS", "AnyOf", "Around", "CorpusFile", "Row", "agrees", "files", "kit_of", "make"]

PARTS = {"training": 3_000, "kept-aside": 1_000}
"""How many files each part has."""


def kit_of(part: str) -> Kit:
    """Return what the part is made from."""
    if part == "training":
        from bench.corpus.training import TRAINING

        return TRAINING
    from bench.corpus.kept_aside import KEPT_ASIDE

    return KEPT_ASIDE


def files(part: str, first: int = 0, step: int = 1, limit: int | None = None) -> Iterator[CorpusFile]:
    """Yield every `step`th file of the part from the `first`, up to `limit`."""
    return make_all(kit_of(part), range(first, limit or PARTS[part], step))
