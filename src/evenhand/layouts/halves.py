"""Times of a clock of twelve hours that lost their AM and PM: half of them would be read twelve hours early."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from evenhand.layouts.values.civil import Civil
from evenhand.layouts.values.coded import Codes
from evenhand.layouts.values.dates import NO_OFFSET
from evenhand.terms.languages import of_file, told
from evenhand.terms.records import Refusal
from evenhand.terms.zones import DAY_S

__all__ = ["refuse_lost_halves"]

FIRST_S, LAST_S = 3600, 13 * 3600  # [s] a clock of twelve hours shows 1:00 to 12:59
LEAST = 3  # days on which the log steps back in the middle
MOST_DAYS = 0.6  # of the days of a reader or of a number with more than one row


def refuse_lost_halves(name: str, label: str, civil: Civil, logs: list[Codes]) -> None:
    """Raise Refusal where a log's times are those of a clock of twelve hours whose halves of the day are lost.

    A log runs in order of time. Where no time is before 1:00 or after 12:59, but most days step back once, as from
    12:58 to 1:02, the times behind that step are afternoons. `logs` are the rows' readers, and their numbers: a log may
    be sorted by either.
    """
    sound = np.flatnonzero((civil.faults == 0) & (civil.offset == NO_OFFSET))
    second = civil.local[sound] % DAY_S
    if not len(sound) or second.min() < FIRST_S or second.max() >= LAST_S:
        return
    for codes in logs:
        stepping, days = _stepping_days(civil.local[sound], codes[sound])
        if stepping >= LEAST and stepping >= MOST_DAYS * days:
            raise Refusal(
                of_file(
                    name,
                    told(
                        "no time in {label} is after 12:59 and none says AM or PM, but {stepping} of {days} days "
                        "step back once in the middle, so the halves of the day are lost; export the file with "
                        "AM and PM, or on a clock of 24 hours.",
                        label=label,
                        stepping=stepping,
                        days=days,
                    ),
                )
            )


def _stepping_days(local: npt.NDArray[np.int64], codes: Codes) -> tuple[int, int]:
    """Return how many days of one code step back once, and how many have more than one row, in the file's order."""
    rows = np.argsort(codes, kind="stable")
    local, codes = local[rows], codes[rows]
    day = local // DAY_S
    same = codes[1:] == codes[:-1]
    if ((np.diff(day) < 0) & same).sum() > ((np.diff(day) > 0) & same).sum():  # the newest row stands first
        local, codes, day, same = local[::-1], codes[::-1], day[::-1], same[::-1]
    is_new = np.concatenate([[True], ~same | (np.diff(day) != 0)])
    group = np.cumsum(is_new) - 1
    back = (np.diff(local) < 0) & ~is_new[1:]
    steps = np.bincount(group[1:][back], minlength=group[-1] + 1)
    several = np.bincount(group) > 1
    return int((steps[several] == 1).sum()), int(several.sum())
