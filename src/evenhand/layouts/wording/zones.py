"""The zone that the header of a column of times names: "When (UTC)", "Zeit (MEZ)", "timestamp_utc", "Time GMT-6".

UTC is one thing; an abbreviation such as CST has no one meaning, so that it only suggests zones.
Source of the abbreviations: the IANA time zone database, whose zones are asked for the offset of each.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from evenhand.layouts.wording.header import words_of

__all__ = ["is_universal", "zone_words", "zone_words_above", "zones_of"]

UNIVERSAL = frozenset({"utc", "gmt", "zulu", "weltzeit", "tuc"})
OFFSET = re.compile(r"(?:UTC|GMT)\s*([+\-−–])\s*(\d{1,2})(?::?00)?(?![\d:])", re.IGNORECASE)
ZONES = {
    "EST": ("America/New_York",),
    "EDT": ("America/New_York",),
    "ET": ("America/New_York",),
    "CST": ("America/Chicago",),
    "CDT": ("America/Chicago",),
    "CT": ("America/Chicago",),
    "MST": ("America/Denver", "America/Phoenix"),
    "MDT": ("America/Denver",),
    "MT": ("America/Denver",),
    "PST": ("America/Los_Angeles",),
    "PDT": ("America/Los_Angeles",),
    "PT": ("America/Los_Angeles",),
    "AKST": ("America/Anchorage",),
    "AKDT": ("America/Anchorage",),
    "HST": ("Pacific/Honolulu",),
    "BST": ("Europe/London",),
    "WET": ("Europe/Lisbon",),
    "WEST": ("Europe/Lisbon",),
    "CET": ("Europe/Berlin", "Europe/Paris", "Europe/Madrid", "Europe/Rome", "Europe/Warsaw"),
    "CEST": ("Europe/Berlin", "Europe/Paris", "Europe/Madrid", "Europe/Rome", "Europe/Warsaw"),
    "EET": ("Europe/Helsinki", "Europe/Athens"),
    "EEST": ("Europe/Helsinki", "Europe/Athens"),
}
GERMAN = {"MEZ": "CET", "MESZ": "CEST", "WEZ": "WET", "OEZ": "EET"}
# Words that are no others: they are believed in small letters and beside any word.
CERTAIN = frozenset(["CST", "CDT", "EDT", "MDT", "PST", "PDT", "CET", "CEST", "MEZ", "MESZ"])
BRACKETED = re.compile(r"[(\[]\s*([A-Z]{1,5})\s*[)\]]")
LAST = re.compile(r"(?<![A-Za-z])([A-Z]{3,4})$")

# A word for times, or for a time zone, in eight languages, and the zone behind it.
ALL_TIMES = re.compile(
    r"\b(?:times|time ?zone|timestamps|(?:uhr)?zeiten|zeitangaben|zeitzone|horas|horarios|zona horaria|huso horario|"
    r"heures|horaires|fuseau horaire|horários|fuso horário|fuso orario|orari|ore|tijden|tijdzone|czasy|godziny|"
    r"strefa czasowa)\b"
    r"[^\d.;\n]{1,40}?(?:\b(?:UTC|GMT)(?:\s*[+\-−–]\s*\d{1,2}(?::?00)?)?|\b(?:"
    + "|".join([*sorted(ZONES, key=len, reverse=True), *GERMAN])
    + r"))(?![\w/])",
    re.IGNORECASE,
)


def zone_words(headers: Iterable[str]) -> list[str]:
    """Return the words for zones in the headers of times, such as "UTC", "UTC-6" or "CST", each once."""
    return list(dict.fromkeys(word for header in headers for word in _words(header)))


def zone_words_above(text: str) -> list[str]:
    """Return the words for zones in a note above a header that says of all times in which zone they are.

    That a file was made at 08:00 UTC says nothing of its rows: the zone stands behind a word for times, with no digit
    between.
    """
    return list(dict.fromkeys(word for found in ALL_TIMES.finditer(text) for word in _words(found[0])))


def _words(header: str) -> Iterator[str]:
    bracketed = BRACKETED.findall(header)
    if offset := OFFSET.search(header):
        sign = "+" if offset[1] == "+" else "-"
        yield f"UTC{sign}{int(offset[2])}" if int(offset[2]) else "UTC"
        return
    words = words_of(header)
    if not UNIVERSAL.isdisjoint(words) or "Z" in bracketed:
        yield "UTC"
    known = {word.upper() for word in words} & CERTAIN
    named = [*bracketed, *LAST.findall(header.strip())]
    yield from sorted(known | {word for word in named if word in ZONES or word in GERMAN})


def is_universal(words: Iterable[str]) -> bool:
    """Return whether words for zones mean UTC and nothing else."""
    return list(words) == ["UTC"]


def zones_of(word: str) -> tuple[str, ...]:
    """Return the IANA zones that a word for a zone may mean, the likeliest first, a fixed offset from UTC last."""
    if word.startswith("UTC"):
        return (_fixed(timedelta(hours=int(word[3:] or 0))),)
    abbreviation = GERMAN.get(word, word)
    zones = ZONES[abbreviation]
    months = (datetime(2026, month, 15, 12, tzinfo=UTC).astimezone(ZoneInfo(zones[0])) for month in (1, 7))
    fixed = (offset for at in months if at.tzname() == abbreviation and (offset := at.utcoffset()) is not None)
    return (*zones, *map(_fixed, fixed))


def _fixed(offset: timedelta) -> str:
    """Return the zone of a fixed offset of whole hours; its name counts westward, as POSIX does."""
    hours = round(offset / timedelta(hours=1))
    return f"Etc/GMT{-hours:+d}" if hours else "UTC"
