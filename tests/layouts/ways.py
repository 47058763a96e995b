"""Ways of writing days and times of day, rendered by Python's strftime (POSIX) and by Babel (Unicode CLDR).

Each day's way says in which order its parts stand ("" where its form says it); each time's way how fine it is [s].
"""

from collections.abc import Callable
from datetime import date, datetime, time

from babel.dates import format_date

LANGUAGES = ("en", "es", "de", "fr", "pt", "it", "nl", "pl")
DAY_S = 86_400


def _strftime(way: str) -> Callable[[date], str]:
    return lambda day: day.strftime(way)


def _babel(length: str, language: str) -> Callable[[date], str]:
    return lambda day: format_date(day, length, locale=language)


PARTED = ["%d.%m.%Y", "%d/%m/%y", "%d-%m-%Y", "%d %m %Y", "%m/%d/%Y", "%m/%d/%y", "%m-%d-%Y", "%y-%m-%d", "%y/%m/%d"]
DIGITS = ["%d%m%Y", "%d%m%y", "%m%d%Y", "%m%d%y", "%y%m%d"]
YEAR_FIRST = ["%Y-%m-%d", "%Y/%m/%d", "%Y.%m.%d", "%Y %m %d", "%Y%m%d"]
NAMED = ["%d %b %Y", "%d%b%y", "%B %d, %Y", "%b %d %Y", "%Y-%b-%d", "%d-%b-%Y", "%dth of %B %Y"]
WITH_WEEKDAY = ["%a %d.%m.%Y", "%A, %m/%d/%Y", "%d/%m/%Y (%a)"]

DAYS: dict[str, Callable[[date], str]] = {
    **{way: _strftime(way) for way in (*PARTED, *DIGITS, *YEAR_FIRST, *NAMED, *WITH_WEEKDAY)},
    "d.m.yyyy": lambda day: f"{day.day}.{day.month}.{day.year}",
    "m/d/yy": lambda day: f"{day.month}/{day.day}/{day:%y}",
    "d. m. yyyy": lambda day: f"{day.day}. {day.month}. {day.year}",
    "serial": lambda day: str((day - date(1899, 12, 30)).days),
    **{
        f"{language} {length}": _babel(length, language)
        for language in LANGUAGES
        for length in ("short", "medium", "long", "full")
    },
}
# What a sheet made of a date of digits alone: a number, which begins with no zero.
SHORT_DAYS = {way + " as a number": _strftime(way) for way in DIGITS}


def _of_twelve(am: str, pm: str, way: str) -> Callable[[time], str]:
    return lambda at: at.strftime(way) + (pm if at.hour >= 12 else am)


TIMES: dict[str, tuple[int, Callable[[time], str]]] = {
    "%H:%M": (60, lambda at: at.strftime("%H:%M")),
    "%H:%M:%S": (1, lambda at: at.strftime("%H:%M:%S")),
    "h:mm": (60, lambda at: f"{at.hour}:{at:%M}"),
    "h.mm": (60, lambda at: f"{at.hour}.{at:%M}"),
    "%H.%M.%S": (1, lambda at: at.strftime("%H.%M.%S")),
    "%Hh%M": (60, lambda at: at.strftime("%Hh%M")),
    "h.mm Uhr": (60, lambda at: f"{at.hour}.{at:%M} Uhr"),
    "%I:%M AM": (60, _of_twelve(" AM", " PM", "%I:%M")),
    "%I:%M:%Sam": (1, _of_twelve("am", "pm", "%I:%M:%S")),
    "%I:%MA": (60, _of_twelve("A", "P", "%I:%M")),
    "%I:%M a.m.": (60, _of_twelve(" a.m.", " p.m.", "%I:%M")),
    "%I:%M a. m.": (60, _of_twelve(" a.\xa0m.", " p.\xa0m.", "%I:%M")),  # as CLDR writes it in Spanish
    "%I%MA": (60, _of_twelve("A", "P", "%I%M")),
    "%H%M": (60, lambda at: at.strftime("%H%M")),
    "%H%M%S": (1, lambda at: at.strftime("%H%M%S")),
}
# What stands in a column of its own only.
ALONE: dict[str, tuple[int, Callable[[time], str]]] = {
    "hmm as a number": (60, lambda at: str(int(at.strftime("%H%M")))),
    "hmmss as a number": (1, lambda at: str(int(at.strftime("%H%M%S")))),
    "part of a day": (1, lambda at: repr((at.hour * 3600 + at.minute * 60 + at.second) / DAY_S)),
}


def seconds_on_the_wall(when: datetime) -> int:
    """Return the seconds since 1970-01-01T00:00 on the wall."""
    return int((when - datetime(1970, 1, 1)).total_seconds())
