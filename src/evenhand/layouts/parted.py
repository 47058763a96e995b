"""Instants whose year, month, day, hour and minute stand in columns of their own, or whose half of the day does.

Source: the words for year, month, day, hour, minute and second are those of Unicode CLDR's date fields, and some
abbreviations that people use besides.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.evidence.fit import forward
from evenhand.layouts.values.kinds import as_joined
from evenhand.layouts.values.moments import is_mark
from evenhand.layouts.values.months import MONTHS, unaccented
from evenhand.layouts.wording.header import words_of

__all__ = ["mark_behind", "parted_instants"]

WORDS = {
    part: frozenset(words.split())
    for part, words in {
        "year": "year yr yyyy y ano annee an anio jahr jaar anno rok a j r jr jhr",
        "month": "month mon mth mm mes mois monat mese maand miesiac mies m mo mnd mon",
        "day": "day dd d dia tag jour giorno dag dzien t j g dy dg tg dz dzi",
        "hour": "hour hr hrs hh h hora heure stunde std ora uur godzina godz g u ur",
        "minute": "minute min mins minuto minuut minuta mn mi m",
        "second": "second sec secs ss s segundo seg seconde secondo sekunde sek seconde sekunda",
    }.items()
}
RANGES = {"month": range(1, 13), "day": range(1, 32), "hour": range(25), "minute": range(60), "second": range(60)}
YEARS = range(1990, 2061)
DATES = (("year", "month", "day"), ("day", "month", "year"), ("month", "day", "year"))
MOST = 10  # columns among which the parts are looked for
SURE = 3  # parts that their headers must name, where there are headers
NAMED, UNNAMED, OTHERWISE = 4.0, 0.5, -3.0
WHOLE = 0.9  # of the rows that a date and a time are made of


def parted_instants(seen: Sequence[ColumnSeen]) -> Iterator[tuple[tuple[int, ...], float]]:
    """Yield the source columns of instants that stand in parts, in the order of the file, and how well that fits."""
    able = [(one, parts) for one in seen if (parts := _may_be(one))][:MOST]
    yield from _named_each(able)
    for size in (4, 5, 6):
        for chosen in combinations(able, size):
            for date_parts in DATES:
                wanted = (*date_parts, *(("time",) if size == 4 else ("hour", "minute", "second")[: size - 3]))
                if all(part in parts for part, (_, parts) in zip(wanted, chosen, strict=True)):
                    yield from _weighed([one for one, _ in chosen], wanted)


def _named_each(able: Sequence[tuple[ColumnSeen, frozenset[str]]]) -> Iterator[tuple[tuple[int, ...], float]]:
    """Yield the columns of which each is named as one part, and no other as that, in whichever order they stand."""
    found = {part: [one for one, parts in able if part in parts & _named(one)] for part in WORDS}
    wanted = [part for part in WORDS if len(found[part]) == 1]
    chosen = [found[part][0] for part in wanted]
    if wanted[:5] != list(WORDS)[:5] or len({one.position for one in chosen}) < len(chosen):
        return
    at = {part: found[part][0].position for part in wanted}
    in_order = ([at[part] for part in (*parts, *wanted[3:])] for parts in DATES)
    # Those that stand in a usual order are found without.
    if all(places != sorted(places) for places in in_order):
        yield from _weighed(chosen, tuple(wanted))


def _may_be(one: ColumnSeen) -> frozenset[str]:
    """Return the parts that a column may be by its cells, and by its header where that names one."""
    profile = one.profile
    if profile.filled < WHOLE:
        return frozenset()
    numbers = {text: _number(text) for text in profile.counts}

    def lie_in(of: range) -> bool:
        return profile.share(lambda text: numbers[text] in of) >= WHOLE

    parts = {part for part, of in RANGES.items() if lie_in(of)}
    if lie_in(YEARS):
        parts.add("year")
    elif profile.share(lambda text: unaccented(text).rstrip(".") in MONTHS) >= WHOLE:
        parts.add("month")
    elif profile.as_times.share >= WHOLE:
        parts.add("time")
    named = _named(one)
    return frozenset(parts & named if parts & named else parts)


def _number(text: str) -> int:
    digits = text.removesuffix(".0")
    return int(digits) if len(digits) <= 4 and digits.isascii() and digits.isdigit() else -1


def _named(one: ColumnSeen) -> set[str]:
    words = words_of(one.header)
    return {part for part, of in WORDS.items() if any(word in of for word in words)}


def _weighed(chosen: list[ColumnSeen], parts: tuple[str, ...]) -> Iterator[tuple[tuple[int, ...], float]]:
    """Yield the columns with how well they fit, where enough headers name them, or they stand side by side."""
    named = [part in _named(one) for one, part in zip(chosen, parts, strict=True)]
    positions = tuple(one.position for one in chosen)
    is_silent = not any(one.header for one in chosen)
    is_side_by_side = positions[-1] - positions[0] == len(positions) - 1
    if sum(named) < SURE and not (is_side_by_side and (is_silent or sum(named) == SURE - 1)):
        return
    told = as_joined([one.profile.cells for one in chosen])
    if told.share < WHOLE:
        return
    by_word = sum(
        NAMED if is_named else OTHERWISE if one.header and parts[at] != "time" else UNNAMED
        for at, (one, is_named) in enumerate(zip(chosen, named, strict=True))
    )
    yield positions, by_word + len(parts) + forward(told.days, told.seconds)


def mark_behind(seen: Sequence[ColumnSeen], position: int) -> int | None:
    """Return the position of the column behind a time's that holds nothing but marks for the half of the day."""
    for one in seen:
        if one.position == position + 1 and one.profile.size and all(is_mark(text) for text in one.profile.counts):
            return one.position
    return None
