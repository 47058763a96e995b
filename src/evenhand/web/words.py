"""How the pages write hours, instants and days. Everything here is a Jinja filter."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from urllib.parse import quote
from zoneinfo import ZoneInfo

__all__ = ["FILTERS", "ago", "clock", "day", "hours", "long_day", "moment", "plural", "signed", "spelled"]

GAP = "\u00a0"  # keeps a figure and its unit on one line
MINUS = "\u2212"


def hours(seconds: int) -> str:
    """Return `8 h 05`, the nearest minute below; for tables where the exact seconds stand elsewhere."""
    minutes = abs(seconds) // 60
    return f"{MINUS if seconds < 0 else ''}{minutes // 60:,}{GAP}h{GAP}{minutes % 60:02d}"


def spelled(seconds: int) -> str:
    """Return `8 h 05 min 12 s` with nothing rounded away; parts that are nought at either end are left out."""
    left = abs(seconds)
    parts = [(left // 3600, "h"), (left // 60 % 60, "min"), (left % 60, "s")]
    while len(parts) > 1 and parts[0][0] == 0:
        parts.pop(0)
    while len(parts) > 1 and parts[-1][0] == 0:
        parts.pop()
    first, *rest = parts
    written = [f"{first[0]:,}{GAP}{first[1]}", *(f"{amount:02d}{GAP}{unit}" for amount, unit in rest)]
    if seconds == 0:
        return f"0{GAP}min"
    return GAP.join(written)


def signed(seconds: int) -> str:
    """Return `+7 min` or `−7 min`; `0 min` where nothing changed."""
    sign = "+" if seconds > 0 else MINUS if seconds < 0 else ""
    return f"{sign}{GAP if sign else ''}{spelled(seconds)}"


def clock(instant: int, zone: str) -> str:
    """Return `06:53`, or `06:53:47` where there are seconds, on the wall in `zone`."""
    at = datetime.fromtimestamp(instant, ZoneInfo(zone))
    return at.strftime("%H:%M:%S" if at.second else "%H:%M")


def moment(instant: int | datetime, zone: str) -> str:
    """Return `Wed 4 Mar 2026, 06:53` on the wall in `zone`."""
    at = instant if isinstance(instant, datetime) else datetime.fromtimestamp(instant, ZoneInfo(zone))
    at = at.astimezone(ZoneInfo(zone))
    return f"{day(at.date())}, {at:%H:%M}"


def day(of: date) -> str:
    """Return `Wed 4 Mar 2026`."""
    return f"{of:%a} {of.day} {of:%b %Y}".replace(" ", GAP)


def short_day(of: date) -> str:
    """Return `Wed 4 Mar`."""
    return f"{of:%a} {of.day} {of:%b}".replace(" ", GAP)


def long_day(of: date) -> str:
    """Return `Wednesday 4 March 2026`."""
    return f"{of:%A} {of.day} {of:%B %Y}"


def span_of_days(first: date, last: date) -> str:
    """Return `Sun 1 to Sat 14 Mar 2026`, naming month and year once where they agree."""
    if (first.year, first.month) == (last.year, last.month):
        return f"{first:%a} {first.day} to {day(last)}"
    return f"{short_day(first) if first.year == last.year else day(first)} to {day(last)}"


def ago(seconds: int) -> str:
    """Return how long ago, roughly: `3 h ago`, `12 days ago`; `in 5 h` where it lies ahead."""
    length = timedelta(seconds=abs(seconds))
    if length < timedelta(hours=1):
        rough = f"{length.seconds // 60}{GAP}min"
    elif length < timedelta(days=2):
        rough = f"{int(length.total_seconds()) // 3600}{GAP}h"
    else:
        rough = f"{length.days}{GAP}days"
    return f"in {rough}" if seconds < 0 else f"{rough} ago"


def plural(count: int, one: str, many: str = "") -> str:
    """Return `1 person`, `2 people`."""
    return f"{count:,}{GAP}{one if count == 1 else many or one + 's'}"


def in_path(text: object) -> str:
    """Return a name as it stands in an address; slashes stay, since the routes take them."""
    return quote(str(text), safe="/")


FILTERS: dict[str, Callable[..., str]] = {
    "ago": ago,
    "clock": clock,
    "day": day,
    "hours": hours,
    "in_path": in_path,
    "long_day": long_day,
    "moment": moment,
    "plural": plural,
    "short_day": short_day,
    "signed": signed,
    "span_of_days": span_of_days,
    "spelled": spelled,
}
