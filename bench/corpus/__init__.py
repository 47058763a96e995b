"""Files as workplaces really write them, invented, with the truth of every row: made from numbers, never stored.

Each file is made from its number alone, so that the same number always gives the same bytes. The files of `training`
and of `second`, which comes from other words, places and habits, may be looked at while the reading is improved. Those
kept aside are written by somebody who has not read the reading code, and are put beside these for a measurement only.
"""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from importlib.util import find_spec
from typing import cast

from bench.corpus.kit import Kit
from bench.corpus.making import make, make_all
from bench.corpus.records import AnyOf, Around, CorpusFile, Row, agrees

__all__ = ["KITS", "PARTS", "AnyOf", "Around", "CorpusFile", "Row", "agrees", "files", "is_there", "kit_of", "make"]

PARTS = {"training": 3_000, "second": 1_000, "kept-aside": 1_000}
"""How many files each part has."""

KITS = {
    "training": ("training", "TRAINING"),
    "second": ("second_part", "SECOND"),
    "kept-aside": ("kept_aside", "KEPT_ASIDE"),
}


def is_there(part: str) -> bool:
    """Return whether what the part is made from stands in this folder; the part kept aside often does not."""
    return find_spec(f"bench.corpus.{KITS[part][0]}") is not None


def kit_of(part: str) -> Kit:
    """Return what the part is made from; raises LookupError where it is not there."""
    module, name = KITS[part]
    if not is_there(part):
        raise LookupError(
            f"bench/corpus/{module}.py is not here: the part '{part}' is kept out of the project until it is measured; "
            "put its files into that folder, or take another part."
        )
    return cast(Kit, getattr(import_module(f"bench.corpus.{module}"), name))


def files(part: str, first: int = 0, step: int = 1, limit: int | None = None) -> Iterator[CorpusFile]:
    """Yield every `step`th file of the part from the `first`, up to `limit`."""
    return make_all(kit_of(part), range(first, limit or PARTS[part], step))
