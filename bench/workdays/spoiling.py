"""What goes wrong with punches: one is missing, one is too many, one was keyed under a number nobody owns."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from bench.workdays.families import Family
from bench.workdays.presence import Presence

__all__ = ["Spoilt", "spoil"]

WARM_UP_DAYS = 28
"""Days at the beginning that stay whole, so that there are habits to go by."""

CASES = ("removed", "removed", "removed", "stray", "extra", "none")
"""What is done to a chosen shift; of those that lose a punch one in four loses it to a wrong number."""


@dataclass(frozen=True)
class Spoilt:
    """The punches as the readers tell them, and what is true.

    `seen` are those under the person's own number, `strays` those keyed under a number nobody owns, as (number, punch).
    `missing` are true punches that nobody wrote down at all, `stray` those that stand under another number,
    `too_many` punches that were no act of coming or going. `doubles` are second presses within a minute and a half.
    """

    seen: list[Presence]
    strays: list[tuple[str, Presence]]
    missing: list[Presence]
    stray: list[Presence]
    too_many: list[Presence]
    doubles: list[Presence]


def spoil(family: Family, punches: list[Presence], *, share: float = 0.05, seed: int) -> Spoilt:
    """Return the punches with something wrong in a share of the shifts, never twice in one shift.

    Which punch of a shift is lost is drawn evenly over its punches, so that meals are lost as often as ends.
    """
    rng = np.random.default_rng(seed)
    by_shift: dict[tuple[str, int], list[Presence]] = {}
    for punch in punches:
        by_shift.setdefault((punch.person, punch.shift), []).append(punch)
    first = min(punch.day for punch in punches)
    spoilt = Spoilt([], [], [], [], [], [])
    for theirs in by_shift.values():
        is_late = (theirs[0].day - first).days >= WARM_UP_DAYS
        case = str(rng.choice(CASES)) if is_late and rng.random() < share * 2 else "none"
        kept = list(theirs)
        if case in ("removed", "stray"):
            lost = kept.pop(int(rng.integers(len(kept))))
            (spoilt.missing if case == "removed" else spoilt.stray).append(lost)
            if case == "stray":
                spoilt.strays.append((f"9{int(rng.integers(1000, 9999))}", lost))
        elif case == "extra" or rng.random() < family.extra_share:
            kept.append(extra := _one_too_many(rng, family, theirs))
            spoilt.too_many.append(extra)
        spoilt.seen.extend(kept)
        for punch in kept:
            if rng.random() < family.double_share:
                spoilt.doubles.append(replace(punch, at=punch.at + int(rng.integers(4, 85))))
    spoilt.seen.extend(spoilt.doubles)
    spoilt.seen.sort(key=lambda punch: (punch.at, punch.person))
    return spoilt


def _one_too_many(rng: np.random.Generator, family: Family, theirs: list[Presence]) -> Presence:
    """Return a punch between two others of a shift, at least four minutes from both where there is room.

    Somebody showed a colleague how the reader works, or was not sure whether the first had been heard.
    """
    at = int(rng.integers(theirs[0].at + 240, max(theirs[0].at + 241, theirs[-1].at - 240)))
    mark = str(rng.choice(["in", "out"])) if family.marks else ""
    return replace(theirs[0], at=at, kind="extra", mark=mark)
