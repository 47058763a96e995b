"""TOML files of a workspace, read strictly: unknown keys and unexpected values are refused with their place."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any, NoReturn

from evenhand.terms.characters import escaped, hidden_in
from evenhand.terms.disk_faults import why_of
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal
from evenhand.terms.settings import WEEKDAYS
from evenhand.terms.zones import offsets_of

__all__ = ["Section", "read_text", "section_of"]

MOST = 1_000_000
"""The most that an amount may be."""
UNITS = {"seconds": 1, "minutes": 60, "hours": 3600}
"""The units that keys of durations end in, in seconds."""


def read_text(path: Path) -> str:
    """Return what stands in the file at `path`; raises Refusal where it cannot be read as text."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except OSError as fault:
        raise Refusal(
            told("{path} cannot be read ({why}); put back a backup of it.", path=path, why=why_of(fault))
        ) from fault
    except UnicodeDecodeError as fault:
        raise Refusal(
            told("{path} is not text in UTF-8 (byte {byte}); save it as UTF-8.", path=path, byte=fault.start)
        ) from fault


def section_of(text: str, path: Path, known: tuple[str, ...] | None = None) -> Section:
    """Return the outermost table of the text of the file at `path`; any key is known where `known` is None."""
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise Refusal(told("{path} is not valid TOML: {why}; correct that place.", path=path, why=fault)) from fault
    _refuse_hidden(path, content)
    return Section(path, "", content, content if known is None else known)


def _refuse_hidden(path: Path, content: Any, place: str = "") -> None:
    """Refuse names and texts that hold what does not show or turns the text around it; pages and notes show them."""
    if isinstance(content, dict):
        for key, value in content.items():
            within = f"{place}.{key}" if place else key
            _refuse_hidden(path, key, told("the name of {key}", key=escaped(within)))
            _refuse_hidden(path, value, escaped(within))
    elif isinstance(content, list):
        for value in content:
            _refuse_hidden(path, value, place)
    elif isinstance(content, str) and (hidden := hidden_in(content)):
        raise Refusal(
            told(
                "{path}, {place}: found characters that do not show ({hidden}) in “{escaped}”, expected text "
                "without them.",
                path=path,
                place=place,
                hidden=hidden,
                escaped=escaped(content),
            )
        )


def _four(seen: object) -> Decimal:
    return round(Decimal(str(seen)), 4)


class Section:
    """One table of the file; refuses keys it does not know and values that are not as expected."""

    def __init__(self, path: Path, name: str, content: Mapping[str, Any], known: Mapping[str, Any] | tuple[str, ...]):
        self.path, self.name, self.content = path, name, content
        for key in content:
            if key not in known:
                self.refuse(key, _meant(key, known), seen=told("a key nobody knows"))

    def refuse(self, key: str, expected: str, seen: str | None = None) -> NoReturn:
        """Raise the Refusal for `key`."""
        place = f"{self.name}.{key}" if self.name else key
        shown = seen or (repr(str(self.content[key])) if key in self.content else told("nothing"))
        raise Refusal(
            told(
                "{path}, {place}: found {seen}, expected {expected}.",
                path=self.path,
                place=place,
                seen=shown,
                expected=expected,
            )
        )

    def __contains__(self, key: str) -> bool:
        return key in self.content

    def section(self, key: str, known: Mapping[str, Any] | tuple[str, ...]) -> Section:
        """Return the table under `key`, empty where the file has none."""
        content = self.content.get(key, {})
        if not isinstance(content, dict):
            self.refuse(key, told("a table [{key}]", key=key))
        return Section(self.path, f"{self.name}.{key}" if self.name else key, content, known)

    def sections(self, key: str, known: Mapping[str, Any] | tuple[str, ...]) -> Iterator[Section]:
        """Yield each table of the list of tables under `key`."""
        tables = self.content.get(key, [])
        if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
            self.refuse(key, told("tables [[{key}]]", key=f"{self.name}.{key}"))
        for place, table in enumerate(tables, start=1):
            yield Section(self.path, f"{self.name}.{key} {place}", table, known)

    def value(self, key: str, expected: str, is_valid: Callable[[Any], bool]) -> Any:
        """Return the value under `key`."""
        if key not in self.content or not is_valid(self.content[key]):
            self.refuse(key, expected)
        return self.content[key]

    def text(self, key: str) -> str:
        """Return the text under `key`."""
        text: str = self.value(key, told("text in quotes"), lambda seen: isinstance(seen, str) and seen.strip() != "")
        return text.strip()

    def texts(self, key: str) -> tuple[str, ...]:
        """Return the list of texts under `key`."""

        def is_valid(seen: object) -> bool:
            return isinstance(seen, list) and all(isinstance(one, str) and one.strip() for one in seen)

        return tuple(one.strip() for one in self.value(key, told("a list of texts in quotes"), is_valid))

    def amount(self, key: str, *, at_least: int) -> Decimal:
        """Return the number under `key`, exactly as it is written, with up to four decimals."""

        def is_valid(seen: object) -> bool:
            is_number = isinstance(seen, (int, float)) and not isinstance(seen, bool)
            return is_number and at_least <= seen <= MOST and Decimal(str(seen)) == _four(seen)  # type: ignore[operator]

        expected = told("a number from {at_least} to {most} with up to four decimals", at_least=at_least, most=MOST)
        return Decimal(str(self.value(key, expected, is_valid)))

    def zone(self, key: str) -> str:
        """Return the IANA zone under `key`."""
        expected = told("the IANA name of a time zone, such as America/Chicago")
        zone: str = self.value(key, expected, lambda seen: isinstance(seen, str))
        try:
            offsets_of(zone)
        except KeyError:
            self.refuse(key, expected)
        return zone

    def seconds(self, key: str, most: int, *, above_none: bool = False) -> int:
        """Return the duration under `key`, given in the unit that the key ends in, as whole seconds.

        It may be 0 unless it must be `above_none`, and `most` of its units at most.
        """
        unit = key.rpartition("_")[2]

        def is_valid(seen: object) -> bool:
            is_number = isinstance(seen, int | float) and not isinstance(seen, bool)
            if not is_number or not 0 <= seen <= most:  # type: ignore[operator]
                return False
            seconds = seen * UNITS[unit]  # type: ignore[operator]
            return abs(seconds - round(seconds)) < 1e-6 and not (above_none and round(seconds) == 0)

        of = told(unit)
        wanted = (
            told("a number of {unit} above 0 and up to {most}, in whole seconds", unit=of, most=most)
            if above_none
            else told("a number of {unit} from 0 to {most}, in whole seconds", unit=of, most=most)
        )
        number: float = self.value(key, wanted, is_valid)
        return round(number * UNITS[unit])

    def day(self, key: str) -> date:
        """Return the date under `key`."""

        def is_valid(seen: object) -> bool:
            return isinstance(seen, date) and not isinstance(seen, datetime)

        found: date = self.value(key, told("a date such as 2026-01-04"), is_valid)
        return found

    def time(self, key: str) -> int:
        """Return the time of day under `key`, as seconds after midnight."""
        expected = told('a time such as "22:00"')
        seconds = _time_of(str(self.value(key, expected, lambda seen: isinstance(seen, str))))
        if seconds is None:
            self.refuse(key, expected)
        return seconds

    def weekday_and_time(self, key: str) -> tuple[int, int]:
        """Return the weekday (0 is Monday) and the seconds after midnight under `key`."""
        expected = told('a weekday and a time such as "Sunday 00:00"')
        words = self.value(key, expected, lambda seen: isinstance(seen, str)).split()
        seconds = _time_of(words[1]) if len(words) == 2 and words[0].capitalize() in WEEKDAYS else None
        if seconds is None:
            self.refuse(key, expected)
        return WEEKDAYS.index(words[0].capitalize()), seconds


def _meant(key: str, known: Mapping[str, Any] | tuple[str, ...]) -> str:
    """Return what was expected in place of an unknown key: the known one that differs in its unit alone, or any."""
    stem, _, unit = key.rpartition("_")
    for one in known:
        same, _, counts_in = one.rpartition("_")
        if stem and same == stem and {unit, counts_in} <= set(UNITS):
            return told("{key}, which counts in {unit}", key=one, unit=told(counts_in))
    return told("one of {known}", known=", ".join(known))


def _time_of(text: str) -> int | None:
    try:
        time = datetime.strptime(text, "%H:%M")
    except ValueError:
        return None
    return time.hour * 3600 + time.minute * 60
