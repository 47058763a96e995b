"""What a settings file says about rules: the policy of the workplace, and the dated rules of each site."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

from evenhand.store.sections import Section
from evenhand.terms.languages import in_a_row, told
from evenhand.terms.settings import WEEKDAYS, AutomaticMeal, Differential, Grace, Policy, SiteRules

__all__ = ["read_place", "read_policy", "read_site"]

PLACE = re.compile(r"[A-Z]{2}(?:-[A-Z0-9]{1,3})?")

ROUNDING_MINUTES = (0, 5, 6, 15)
DAY_MINUTES, WEEK_HOURS = 24 * 60, 7 * 24  # nothing here counts for longer than a day, or than a workweek
DURATIONS = {
    "repeat_seconds": ("repeat_gap_s", 3600),
    "longest_span_hours": ("longest_span_s", WEEK_HOURS),
    "long_span_hours": ("long_span_s", WEEK_HOURS),
    "shift_gap_hours": ("shift_gap_s", WEEK_HOURS),
    "meal_minutes": ("meal_s", DAY_MINUTES),
    "trifle_seconds": ("trifle_s", 3600),
    "call_back_hours": ("call_back_s", 24),
}
"""By key of the file: the policy it sets, and the most it may be in its own unit."""
ABOVE_NONE = {"longest_span_hours", "long_span_hours", "minutes"}
"""Durations that mean nothing where they are 0: every punch would be missing, every span long, every meal empty."""
FORMER = {"double_seconds": "repeat_seconds"}
"""Keys that were renamed; a file that still has them is read as if it had the new one."""
POLICY_KEYS = (*DURATIONS, *FORMER, "grace", "automatic_meal", "differential")
GRACE = {f"{name}_minutes": f"{name}_s" for name in ("start_early", "start_late", "end_early", "end_late")}
MEAL = {"minutes": ("length_s", DAY_MINUTES), "after_hours": ("after_s", 24), "at_hours": ("at_s", 24)}
DIFFERENTIAL = ("name", "days", "starts", "ends", "an_hour", "multiple")
PUBLIC_SAFETY = ("fire_protection", "law_enforcement")
DATED = (
    "zone",
    "jurisdiction",
    "workweek_starts",
    "rounding_minutes",
    "alternative_day_hours",
    "alternative_days",
    "health_care_schedule",
    "first_meal_waived",
    "second_meal_waived",
    "fortnight_begins",
    "public_safety",
    "work_period_days",
    "work_period_begins",
    "holidays",
)


def read_policy(section: Section) -> Policy:
    """Return the policy in the table `[policy]`."""
    for former, key in FORMER.items():
        if former in section and key in section:
            section.refuse(former, told("{key} alone, which is its name now", key=key))
    written = {**{key: key for key in DURATIONS}, **FORMER}
    durations = {
        DURATIONS[key][0]: section.seconds(name, DURATIONS[key][1], above_none=key in ABOVE_NONE)
        for name, key in written.items()
        if name in section
    }
    return Policy(
        **durations,
        grace=_grace(section.section("grace", GRACE)),
        automatic_meal=_meal(section.section("automatic_meal", MEAL)) if "automatic_meal" in section else None,
        differentials=tuple(_differential(one) for one in section.sections("differential", DIFFERENTIAL)),
    )


def _grace(section: Section) -> Grace:
    return Grace(**{name: section.seconds(key, DAY_MINUTES) for key, name in GRACE.items() if key in section})


def _meal(section: Section) -> AutomaticMeal:
    return AutomaticMeal(
        **{name: section.seconds(key, most, above_none=key in ABOVE_NONE) for key, (name, most) in MEAL.items()}
    )


def _differential(section: Section) -> Differential:
    days = section.texts("days") if "days" in section else WEEKDAYS
    named = [day.capitalize() for day in days]
    if any(day not in WEEKDAYS and day != "Holidays" for day in named):
        section.refuse("days", told('a list of {days} and "holidays"', days=", ".join(WEEKDAYS)))
    return Differential(
        name=section.text("name"),
        days=tuple(WEEKDAYS.index(day) for day in named if day in WEEKDAYS),
        on_holidays="Holidays" in named,
        starts_s=section.time("starts") if "starts" in section else 0,
        ends_s=section.time("ends") if "ends" in section else 86_400,
        an_hour=section.amount("an_hour", at_least=0) if "an_hour" in section else Decimal(0),
        multiple=section.amount("multiple", at_least=1) if "multiple" in section else Decimal(1),
    )


def read_site(name: str, sites: Section) -> SiteRules:
    """Return the rules in the table `[site.NAME]`, with those that its `[[site.NAME.from]]` tables change later.

    A later table holds its date and what changes; what it leaves out stays as it was.
    """
    section = sites.section(name, (*DATED, "place", "from"))
    place = read_place(section) if "place" in section else ""
    rules = SiteRules(name, section.zone("zone"), place=place, **_dated(section))
    later: list[SiteRules] = []
    for change in section.sections("from", ("date", *DATED)):
        before = later[-1] if later else rules
        since = change.day("date")
        if before.since is not None and since <= before.since:
            change.refuse(
                "date", told("a date after {day}, since dates of effect may not overlap", day=str(before.since))
            )
        zone = change.zone("zone") if "zone" in change else before.zone
        later.append(replace(before, since=since, zone=zone, **_dated(change)))
    return replace(rules, changes=tuple(later))


def read_place(section: Section) -> str:
    """Return the `place` of a table; raises Refusal where it is written otherwise than ISO 3166 writes a country's."""
    expected = told("a country or a country and its part by ISO 3166, such as US-IL, DE or EU")
    return str(section.value("place", expected, _is_place))


def _dated(section: Section) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if "jurisdiction" in section:
        found["jurisdiction"] = section.text("jurisdiction")
    if "workweek_starts" in section:
        found["workweek_day"], found["workweek_s"] = section.weekday_and_time("workweek_starts")
    if "rounding_minutes" in section:
        rounding = section.content["rounding_minutes"]
        if rounding not in ROUNDING_MINUTES or isinstance(rounding, bool):
            section.refuse("rounding_minutes", told("0, 5, 6 or 15"))
        found["rounding_s"] = rounding * 60
    if "alternative_day_hours" in section:
        found["alternative_day_s"] = section.seconds("alternative_day_hours", 24)
    if "alternative_days" in section:
        named = [day.capitalize() for day in section.texts("alternative_days")]
        if any(day not in WEEKDAYS for day in named):
            section.refuse("alternative_days", told("a list of {days}", days=", ".join(WEEKDAYS)))
        found["alternative_days"] = tuple(sorted({WEEKDAYS.index(day) for day in named}))
    if "health_care_schedule" in section:
        found["health_care"] = section.value(
            "health_care_schedule", told("true or false"), lambda seen: isinstance(seen, bool)
        )
    for key in ("first_meal_waived", "second_meal_waived"):
        if key in section:
            found[key] = section.texts(key)
    if "fortnight_begins" in section:
        found["fortnight"] = section.day("fortnight_begins")
    found |= _work_period(section)
    if "holidays" in section:
        found["holidays"] = section.text("holidays")
    return found


def _work_period(section: Section) -> dict[str, Any]:
    """Return what is said of the work periods of public safety, which last from 7 to 28 days (29 USC 207(k))."""
    found: dict[str, Any] = {}
    if "public_safety" in section:
        kinds = in_a_row("{one} or {other}", [f'"{kind}"' for kind in PUBLIC_SAFETY])
        found["public_safety"] = section.value("public_safety", kinds, lambda seen: seen in PUBLIC_SAFETY)
    if "work_period_days" in section:
        found["work_period_days"] = section.value(
            "work_period_days", told("a whole number of days, 7 to 28"), _is_period
        )
    if "work_period_begins" in section:
        found["work_period"] = section.day("work_period_begins")
    return found


def _is_place(seen: object) -> bool:
    return isinstance(seen, str) and PLACE.fullmatch(seen) is not None


def _is_period(seen: object) -> bool:
    return isinstance(seen, int) and not isinstance(seen, bool) and 7 <= seen <= 28
