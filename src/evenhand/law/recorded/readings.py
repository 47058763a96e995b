"""Read which way each punch went, where the readers did not record it.

Source: common practice, no source. Punches of one person that lie no further apart than anybody works without
punching form a stretch. Marks are believed, save where as many starts as ends stand in an order that cannot be, such
as start, start, end, end, while alternating gives breaks of no more than an hour and work of no less: then two keys
were swapped, and the punches alternate. Unmarked punches alternate, beginning with a start. Where that leaves one over,
the reading is taken that supposes the fewest missing punches; among those the one that fits the schedule, the person's
own earlier habit of starting and ending at that time of day and the ordinary length of work, break and rest; among
those the one that reads the last punch as a start, and each before it as an end.
"""

from __future__ import annotations

from typing import Any

from evenhand.law.codes import IN, OUT, UNMARKED

__all__ = ["read_certain", "read_doubtful"]

MISSING = 1 << 40
"""What one missing punch costs: more than all other considerations in a stretch together."""

FORBIDDEN = 1 << 60
HABIT_S = 600
"""Habits are counted in slots of ten minutes, with the slot before and after."""

HOUR_S = 3600


SCHEDULED_S = 86_400
"""What it costs to read a punch near a scheduled start as an end, or the reverse: as much as the whole of a habit."""


def read_certain(
    person: Any, at: Any, mark: Any, toward: Any, longest_s: int, reading: Any, lows: Any, highs: Any
) -> int:
    """Read stretches that marks or plain alternation settle; list the others' bounds and return their number."""
    doubtful = 0
    low = 0
    n = len(at)
    while low < n:
        high = low + 1
        while high < n and person[high] == person[low] and at[high] - at[high - 1] <= longest_s:
            high += 1
        alternates = (high - low) % 2 == 0
        marked = True
        starts, plausible = 0, mark[low] == IN and mark[high - 1] == OUT
        for i in range(low, high):
            starts += mark[i] == IN
            if i > low:
                apart = at[i] - at[i - 1]
                is_break = (i - low) % 2 == 0
                plausible = plausible and (apart <= HOUR_S if is_break else apart >= HOUR_S)
            turn = IN if (i - low) % 2 == 0 else OUT
            if mark[i] == UNMARKED:
                marked = False
            elif mark[i] != turn:
                alternates = False
            reading[i] = turn
        swapped = plausible and 2 * starts == high - low and toward[low] != OUT and toward[high - 1] != IN
        if marked and (alternates or not swapped):
            for i in range(low, high):
                reading[i] = mark[i]
        elif not marked and not alternates:
            lows[doubtful] = low
            highs[doubtful] = high
            doubtful += 1
        low = high
    return doubtful


def read_doubtful(
    person: Any,
    at: Any,
    local: Any,
    mark: Any,
    toward: Any,
    lows: Any,
    highs: Any,
    doubtful: int,
    shift_gap_s: int,
    cost: Any,
    came: Any,
    reading: Any,
) -> None:
    """Read each doubtful stretch by the cheapest sequence of starts and ends.

    `cost` and `came` are working columns, two entries a punch: the cheapest way to have started (even) or ended
    (odd) there, and which way the punch before went in it.
    """
    slots = 86_400 // HABIT_S
    habit = [0] * (2 * slots)
    seen, owner = 0, -1
    for d in range(doubtful):
        low, high = lows[d], highs[d]
        if person[low] != owner:
            owner = person[low]
            for slot in range(2 * slots):
                habit[slot] = 0
            seen = low
            while seen > 0 and person[seen - 1] == owner:
                seen -= 1
        for i in range(seen, low):
            habit[2 * (local[i] % 86_400 // HABIT_S) + reading[i] - IN] += 1
        seen = high
        for i in range(low, high):
            slot = local[i] % 86_400 // HABIT_S
            before, after = (slot - 1) % slots, (slot + 1) % slots
            ins = habit[2 * before] + 2 * habit[2 * slot] + habit[2 * after]
            outs = habit[2 * before + 1] + 2 * habit[2 * slot + 1] + habit[2 * after + 1]
            unlike_in = max(0, outs - ins) * 86_400 // (ins + outs + 2)
            unlike_out = max(0, ins - outs) * 86_400 // (ins + outs + 2)
            if toward[i] == IN:
                unlike_out += SCHEDULED_S
            elif toward[i] == OUT:
                unlike_in += SCHEDULED_S
            if mark[i] == OUT:
                unlike_in, unlike_out = FORBIDDEN, 0
            elif mark[i] == IN:
                unlike_in, unlike_out = 0, FORBIDDEN
            if i == low:
                in_in = out_in = 0
                in_out = out_out = MISSING
            else:
                apart = at[i] - at[i - 1]
                brief = max(0, HOUR_S - apart)
                if apart > shift_gap_s:
                    work, rest, hidden = apart, 0, MISSING + apart
                else:
                    work, rest, hidden = brief, max(0, apart - HOUR_S), MISSING + brief
                in_in, out_in = cost[2 * i - 2] + hidden, cost[2 * i - 1] + rest
                in_out, out_out = cost[2 * i - 2] + work, cost[2 * i - 1] + hidden
            came[2 * i] = IN if in_in < out_in else OUT
            came[2 * i + 1] = IN if in_out < out_out else OUT
            cost[2 * i] = min(in_in, out_in) + unlike_in
            cost[2 * i + 1] = min(in_out, out_out) + unlike_out
        way = IN if cost[2 * high - 2] + MISSING <= cost[2 * high - 1] else OUT
        for i in range(high - 1, low - 1, -1):
            reading[i] = way
            way = came[2 * i + way - IN]
