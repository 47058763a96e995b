"""Dates and times as people and machines write them, from patterns such as DD.MM.YYYY and {h}:{mm} {AP}."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

__all__ = ["MONTHS", "civil", "order_of", "readings", "serial", "write_date", "write_time"]

# Common practice, no source: months as each language writes them, the short form being cut or pointed as is usual.
MONTHS = {
    "en": "January February March April May June July August September October November December",
    "es": "enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre",
    "de": "Januar Februar März April Mai Juni Juli August September Oktober November Dezember",
    "fr": "janvier février mars avril mai juin juillet août septembre octobre novembre décembre",
    "pt": "janeiro fevereiro março abril maio junho julho agosto setembro outubro novembro dezembro",
    "it": "gennaio febbraio marzo aprile maggio giugno luglio agosto settembre ottobre novembre dicembre",
    "nl": "januari februari maart april mei juni juli augustus september oktober november december",
    "pl": "stycznia lutego marca kwietnia maja czerwca lipca sierpnia września października listopada grudnia",
}
SHORT = {
    "en": "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec",
    "es": "ene feb mar abr may jun jul ago sep oct nov dic",
    "de": "Jan Feb Mrz Apr Mai Jun Jul Aug Sep Okt Nov Dez",
    "fr": "janv févr mars avr mai juin juil août sept oct nov déc",
    "pt": "jan fev mar abr mai jun jul ago set out nov dez",
    "it": "gen feb mar apr mag giu lug ago set ott nov dic",
    "nl": "jan feb mrt apr mei jun jul aug sep okt nov dec",
    "pl": "sty lut mar kwi maj cze lip sie wrz paź lis gru",
}
TOKEN = re.compile(r"YYYY|YY|MMMM|MMM|MM|M|DD|D")
EPOCH = datetime(1899, 12, 30)


def write_date(pattern: str, day: date, language: str) -> str:
    """Return the day by the pattern: YYYY, YY, MMMM (name), MMM (short name), MM, M, DD, D; the rest stands."""
    parts = {
        "YYYY": f"{day.year:04d}",
        "YY": f"{day.year % 100:02d}",
        "MMMM": MONTHS[language].split()[day.month - 1],
        "MMM": SHORT[language].split()[day.month - 1],
        "MM": f"{day.month:02d}",
        "M": str(day.month),
        "DD": f"{day.day:02d}",
        "D": str(day.day),
    }
    return TOKEN.sub(lambda found: parts[found.group()], pattern)


def write_time(pattern: str, at: datetime) -> str:
    """Return the time by the pattern: {HH}, {H}, {hh}, {h} (of twelve), {mm}, {ss}, and {AP}, {ap}, {pt}, {sp}, {p}."""
    half = "a" if at.hour < 12 else "p"
    return pattern.format(
        HH=f"{at.hour:02d}",
        H=at.hour,
        hh=f"{at.hour % 12 or 12:02d}",
        h=at.hour % 12 or 12,
        mm=f"{at.minute:02d}",
        ss=f"{at.second:02d}",
        AP=f"{half.upper()}M",
        ap=f"{half}m",
        pt=f"{half}.m.",
        sp=f"{half}. m.",
        p=half,
    )


def order_of(pattern: str) -> str:
    """Return in which order the pattern gives day, month and year: dmy, mdy or ymd."""
    return "".join(found[0].lower() for found in TOKEN.findall(pattern))


def serial(at: datetime) -> float:
    """Return a spreadsheet's number of a moment, days since 30 December 1899."""
    return (at - EPOCH) / timedelta(days=1)


def readings(pattern: str, day: date) -> dict[str, date]:
    """Return what the day, written in figures by the pattern, may be taken for, by order; one where it is plain."""
    order, written = order_of(pattern), write_date(pattern, day, "en")
    if "MMM" in pattern:
        return {order: day}
    figures = re.findall(r"\d+", written)
    if len(figures) == 1:
        long = "YYYY" in pattern
        sizes = (
            {"dmy": (2, 2, 4), "mdy": (2, 2, 4), "ymd": (4, 2, 2)}
            if long
            else dict.fromkeys(("dmy", "mdy", "ymd"), (2, 2, 2))
        )
        if any(token in TOKEN.findall(pattern) for token in ("D", "M")):
            return {order: day}
        cut = {one: (written[:a], written[a : a + b], written[a + b :]) for one, (a, b, _) in sizes.items()}
    elif len(figures[0]) == 4:
        return {order: day}
    else:
        cut = {one: tuple(figures) for one in ("dmy", "mdy", "ymd")}
        if len(figures[2]) == 4 or len(figures[0]) == 1:
            del cut["ymd"]
    found = {}
    for one, parts in cut.items():
        named = dict(zip(one, (int(part) for part in parts), strict=True))
        year = named["y"] if named["y"] > 99 else 2000 + named["y"] - 100 * (named["y"] > 68)
        try:
            found[one] = date(year, named["m"], named["d"])
        except ValueError:
            continue
    return found


def civil(at: datetime, zone: str) -> datetime:
    """Return the time on a clock in the zone."""
    return at.astimezone(ZoneInfo(zone)).replace(tzinfo=None)
