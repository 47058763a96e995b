"""Look up what was planted, and put the punches beside whose each truly is."""

import polars as pl

from evenhand.twin import Workplace


def planted(place: Workplace, kind: str) -> pl.DataFrame:
    found = place.truth.mistakes.filter(pl.col("kind") == kind)
    assert found.height, kind
    return found


def attributed(place: Workplace) -> pl.DataFrame:
    owners = place.truth.owners.rename({"at": "true_at", "direction": "true_direction"})
    return place.punches.hstack(owners)
