"""Readers whose people all score higher there than elsewhere: worn, out of adjustment, or dirty for long."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from evenhand.scores.model import ScoreModel
from evenhand.scores.tables import READER_HEALTH
from evenhand.terms.columns import Frame

__all__ = ["reader_offsets"]

NOTABLE = 1.1
"""Scores this many times the usual are worth a calibration. Common practice, no source."""


def reader_offsets(model: ScoreModel) -> Frame:
    """Return the readers (READER_HEALTH) whose scores are higher than the others' beyond doubt, the same people given.

    Only readers joined to others by people who use two are judged: otherwise the people may be what differs.
    """
    return READER_HEALTH.rows(_found(model))


def _found(model: ScoreModel) -> Iterator[dict[str, Any]]:
    effects, scale = model.effects, model.scale
    groups = model.groups[len(model.people) :]
    for i, reader in enumerate(model.readers):
        if (groups == groups[i]).sum() < 2:
            continue
        at = effects.mean + effects.reader[i] + np.array([0.0, -1.96, 1.96]) * effects.reader_error[i]
        times, low, high = (np.asarray(scale.back(at)) / model.usual).tolist()
        if low > 1 and times > NOTABLE:
            yield {
                "reader": reader,
                "kind": "offset",
                "size": times,
                "low": low,
                "high": high,
            }
