"""What the logs say of the presentations, and the truth of the same rows."""

from __future__ import annotations

import numpy as np
import polars as pl

from evenhand.terms.columns import Frame
from evenhand.terms.sources import PUNCHES
from evenhand.twin.clocks import reported_at
from evenhand.twin.events import Events
from evenhand.twin.presentations import PLANTED
from evenhand.twin.readers import SITES
from evenhand.twin.truth import OWNERS, SPANS

__all__ = ["report", "true_spans"]


def report(events: Events) -> tuple[Frame, Frame]:
    """Return the punches as the logs have them, by reader in the order written, and the owners row by row."""
    presented, hung = events.presented, events.hung
    visits = presented.visits
    is_plain = np.array([reader.form == "plain" for reader in hung])[visits.reader]
    way = np.array(["out", "in"], dtype=object)
    names = np.array([reader.name for reader in hung], dtype=object)
    punches = PUNCHES.frame(
        {
            "reader": names[visits.reader].tolist(),
            "number": presented.number.tolist(),
            "at": reported_at(events.clocks, hung, visits.reader, visits.at),
            "direction": way[visits.keyed_in.astype(int)].tolist(),
            "outcome": np.where(presented.is_accepted, "accepted", "refused"),
            "score": [
                None if plain else score
                for plain, score in zip(is_plain.tolist(), presented.score.round(1).tolist(), strict=True)
            ],
        }
    )
    # a plain log holds accepted punches only, and no reader writes the same line twice
    logged = np.flatnonzero(~is_plain | presented.is_accepted)
    distinct = punches[logged].select(pl.struct(PUNCHES.key).is_first_distinct()).to_series().to_numpy()
    kept = logged[distinct]
    planted = np.array([None, *PLANTED[1:]], dtype=object)
    owners = OWNERS.frame(
        {
            "row": np.arange(len(kept)),
            "person": np.array(events.staff.person, dtype=object)[visits.person[kept]].tolist(),
            "at": visits.at[kept],
            "direction": way[visits.goes_in[kept].astype(int)].tolist(),
            "planted": planted[visits.planted[kept]].tolist(),
        }
    )
    return punches[kept], owners


def true_spans(events: Events) -> Frame:
    """Return when everybody truly worked, by person and time."""
    movements = events.movements
    starts = np.flatnonzero(movements.goes_in)
    at_site = np.array([reader.site for reader in events.hung])[events.at_reader[starts]]
    return SPANS.frame(
        {
            "person": np.array(events.staff.person, dtype=object)[movements.person[starts]].tolist(),
            "site": np.array([name for name, _ in SITES], dtype=object)[at_site].tolist(),
            "shift": movements.shift[starts],
            "starts": movements.at[starts],
            "ends": movements.at[starts + 1],
        }
    ).sort("person", "starts")
