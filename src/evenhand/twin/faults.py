"""When the planted faults of readers and hands begin and end, and how large they are."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import numpy.typing as npt

from evenhand.terms.zones import day_start
from evenhand.twin.readers import SITES, Reader
from evenhand.twin.staff import Staff

__all__ = [
    "DIRTY",
    "DRIFTS",
    "JUMPS_AT",
    "days_of",
    "hands_drift",
    "hands_worn",
    "place_of",
    "platens_dirt",
    "quiet_days",
]

Floats = npt.NDArray[np.float64]

# parts of the period, from and to
QUIET = (0.4, 0.47)
DIRTY = (0.5, 0.8)
DRIFTS = (0.25, 1.0)
JUMPS_AT = (0.55, 0.8)


def days_of(part: tuple[float, float], days: int) -> tuple[int, int]:
    """Return the first day of a part of the period and the first day after it."""
    return int(part[0] * days), max(int(part[1] * days), int(part[0] * days) + 1)


def place_of(readers: list[Reader], fault: str) -> int:
    """Return the index of the reader that has this fault."""
    return next(i for i, reader in enumerate(readers) if fault in reader.faults)


def quiet_days(readers: list[Reader], first: date, days: int) -> tuple[int, int, int]:
    """Return the reader that goes quiet, and the instants from and to which it records nothing."""
    place = place_of(readers, "quiet")
    begin, end = days_of(QUIET, days)
    zone = SITES[readers[place].site][1]
    return (
        place,
        day_start(zone, first + timedelta(days=begin), 11 * 3600),
        day_start(zone, first + timedelta(days=end), 15 * 3600),
    )


def hands_drift(staff: Staff, days: int) -> Floats:
    """Return how far each hand has drifted (people, days), in spreads of placement.

    An adapting reference hides a steady drift as a plateau; the drifting hands move faster and faster, so that
    their scores rise to the end.
    """
    drift = np.zeros((len(staff.person), days))
    begin, end = days_of(DRIFTS, days)
    since = np.clip(np.arange(days) - begin, 0, None) / max(end - begin, 1)
    drift[staff.parts["hand_drifts"]] = 16 * since**2
    return drift


def hands_worn(staff: Staff, days: int) -> Floats:
    """Return by how much a ring or a bandage changes each hand (people, days): a step that goes again."""
    worn = np.zeros((len(staff.person), days))
    begin, end = days_of(JUMPS_AT, days)
    worn[staff.parts["hand_steps"], begin:end] = 5.0
    return worn


def platens_dirt(readers: list[Reader], days: int) -> Floats:
    """Return how far dirt shifts what each reader sees (readers, days): growing until the platen is cleaned.

    The smear is another every day, or the references would learn it.
    """
    dirt = np.zeros((len(readers), days))
    begin, end = days_of(DIRTY, days)
    dirt[place_of(readers, "dirty"), begin:end] = np.linspace(0.5, 3.0, end - begin)
    return dirt
