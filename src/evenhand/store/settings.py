"""A workspace's settings file: TOML in, Settings out, and back."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any, NoReturn

from evenhand.store.settings_text import write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import WEEKDAYS, PayPeriod, Policy, Settings, SiteRules
from evenhand.terms.zones import offsets_of

__all__ = ["read_settings", "write_settings"]

ROUNDING_MINUTES = (0, 5, 6, 15)
POLICY_UNITS = {
    "double_seconds": ("double_s", 1),
    "longest_span_hours": ("longest_span_s", 3600),
    "long_span_hours": ("long_span_s", 3600),
    "shift_gap_hours": ("shift_gap_s", 3600),
    "meal_minutes": ("meal_s", 60),
}


def read_settings(path: Path) -> Settings:
    """Return the settings in the file at `path`.

    Raises Refusal, naming the key, what was seen and what is expected, at the first thing that is not understood.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as fault:
        raise Refusal(f"{path} cannot be read ({fault.strerror}); put back a backup of it.") from fault
    except UnicodeDecodeError as fault:
        raise Refusal(f"{path} is not text in UTF-8 (byte {fault.start}); save it as UTF-8.") from fault
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise Refusal(f"{path} is not valid TOML: {fault}; correct that place.") from fault
    top = _Part(path, "", content, ("workplace", "pay_period", "policy", "site", "handoff"))
    workplace = top.part("workplace", ("name", "zone", "store"))
    policy = top.part("policy", POLICY_UNITS)
    handoff = top.part("handoff", ("columns",))
    sites = top.part("site", top.content.get("site", {}))
    columns = handoff.part("columns", handoff.content.get("columns", {}))
    return Settings(
        workplace=workplace.text("name"),
        period=_period(top.part("pay_period", ("anchor", "weeks", "deadline_hours"))),
        sites={name: _site(name, sites) for name in sites.content},
        policy=Policy(**{field: policy.seconds(key, unit) for key, (field, unit) in POLICY_UNITS.items()
                         if key in policy.content}),
        handoff_columns=tuple((header, columns.text(header)) for header in columns.content),
        zone=workplace.zone("zone") if "zone" in workplace.content else "",
        store=workplace.text("store") if "store" in workplace.content else "",
    )  # fmt: skip


def _period(part: _Part) -> PayPeriod:
    anchor = part.value("anchor", "a date such as 2026-01-04", _is_date)
    weeks = part.value("weeks", "a whole number of weeks, 1 or more", _is_positive) if "weeks" in part.content else 1
    given = "deadline_hours" in part.content
    return PayPeriod(anchor, weeks, part.seconds("deadline_hours", 3600) if given else PayPeriod.deadline_s)


def _site(name: str, sites: _Part) -> SiteRules:
    part = sites.part(name, ("zone", "jurisdiction", "workweek_starts", "rounding_minutes"))
    day, second = _workweek(part) if "workweek_starts" in part.content else (SiteRules.workweek_day, 0)
    rounding = part.content.get("rounding_minutes", 0)
    if rounding not in ROUNDING_MINUTES or isinstance(rounding, bool):
        part.refuse("rounding_minutes", "0, 5, 6 or 15")
    jurisdiction = part.text("jurisdiction") if "jurisdiction" in part.content else SiteRules.jurisdiction
    return SiteRules(name, part.zone("zone"), jurisdiction, day, second, rounding * 60)


def _workweek(part: _Part) -> tuple[int, int]:
    expected = 'a weekday and a time such as "Sunday 00:00"'
    words = part.value("workweek_starts", expected, lambda seen: isinstance(seen, str)).split()
    if len(words) != 2 or words[0].capitalize() not in WEEKDAYS:
        part.refuse("workweek_starts", expected)
    try:
        time = datetime.strptime(words[1], "%H:%M")
    except ValueError:
        part.refuse("workweek_starts", expected)
    return WEEKDAYS.index(words[0].capitalize()), time.hour * 3600 + time.minute * 60


def _is_date(seen: object) -> bool:
    return isinstance(seen, date) and not isinstance(seen, datetime)


def _is_positive(seen: object) -> bool:
    return isinstance(seen, int) and not isinstance(seen, bool) and seen > 0


class _Part:
    """One table of the file; refuses keys it does not know and values that are not as expected."""

    def __init__(self, path: Path, name: str, content: Mapping[str, Any], known: Mapping[str, Any] | tuple[str, ...]):
        self.path, self.name, self.content = path, name, content
        for key in content:
            if key not in known:
                self.refuse(key, f"one of {', '.join(known)}", seen="a key nobody knows")

    def refuse(self, key: str, expected: str, seen: str | None = None) -> NoReturn:
        """Raise the Refusal for `key`."""
        place = f"{self.name}.{key}" if self.name else key
        shown = seen or (repr(str(self.content[key])) if key in self.content else "nothing")
        raise Refusal(f"{self.path}, {place}: found {shown}, expected {expected}.")

    def part(self, key: str, known: Mapping[str, Any] | tuple[str, ...]) -> _Part:
        """Return the table under `key`, empty where the file has none."""
        content = self.content.get(key, {})
        if not isinstance(content, dict):
            self.refuse(key, f"a table [{key}]")
        return _Part(self.path, f"{self.name}.{key}" if self.name else key, content, known)

    def value(self, key: str, expected: str, is_valid: Callable[[Any], bool]) -> Any:
        """Return the value under `key`."""
        if key not in self.content or not is_valid(self.content[key]):
            self.refuse(key, expected)
        return self.content[key]

    def text(self, key: str) -> str:
        """Return the text under `key`."""
        text: str = self.value(key, "text in quotes", lambda seen: isinstance(seen, str) and seen.strip() != "")
        return text.strip()

    def zone(self, key: str) -> str:
        """Return the IANA zone under `key`."""
        expected = "the IANA name of a time zone, such as America/Chicago"
        zone: str = self.value(key, expected, lambda seen: isinstance(seen, str))
        try:
            offsets_of(zone)
        except KeyError:
            self.refuse(key, expected)
        return zone

    def seconds(self, key: str, unit: int) -> int:
        """Return the duration under `key`, given in units of `unit` seconds, as whole seconds."""

        def is_valid(seen: object) -> bool:
            is_number = isinstance(seen, int | float) and not isinstance(seen, bool)
            return is_number and 0 <= seen < 1e6 and abs(seen * unit - round(seen * unit)) < 1e-6  # type: ignore[operator]

        number: float = self.value(key, "a number that is not negative and comes to whole seconds", is_valid)
        return round(number * unit)
