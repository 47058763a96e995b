"""The workplace's frames as the ordinary files that offices and readers hand out."""

from __future__ import annotations

import numpy as np

from evenhand.twin.files.enrolled import enrolment_lists
from evenhand.twin.files.lists import other_lists
from evenhand.twin.files.logs import punch_logs
from evenhand.twin.files.rosters import rosters
from evenhand.twin.workplace import Workplace

__all__ = ["files"]


def files(workplace: Workplace) -> dict[str, bytes]:
    """Return the workplace's files by name: rosters, readers, enrolment lists, punch logs, schedules, consent.

    Read back, they give the workplace's frames; what cannot be read is listed in the truth. The formats are
    invented. The same workplace gives the same bytes.
    """
    rng = np.random.default_rng([workplace.seed, 1])
    return {
        **rosters(workplace),
        **other_lists(workplace),
        **enrolment_lists(workplace),
        **punch_logs(rng, workplace),
    }
