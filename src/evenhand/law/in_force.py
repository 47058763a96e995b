"""Say which rules bind a site on a day, in order of application: what each does, its source, its numbers in force."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from evenhand.law.jurisdictions import JURISDICTIONS, jurisdiction_of, pay_laws
from evenhand.terms.languages import sentence, told
from evenhand.terms.parameters import OwnRules, Parameter
from evenhand.terms.settings import Grace, Policy, SiteRules

__all__ = ["NumberInForce", "RuleInForce", "RulesInForce", "jurisdiction_titles", "number_known", "rules_in_force"]

SAYS: Mapping[str, str] = {
    "recorded.repeats": sentence("Presentations of one person close together count as one punch."),
    "recorded.pairing": sentence(
        "Reads which way each punch went and pairs starts with ends; what they do not tell is asked."
    ),
    "recorded.grace": sentence("A punch near a scheduled start or end counts as it."),
    "recorded.trifles": sentence("A shift of a few uncertain moments is not paid."),
    "recorded.automatic_meal": sentence("A meal is deducted without punches, unless the punches say otherwise."),
    "recorded.call_back": sentence(
        "A shift outside the schedule, soon after a scheduled one, is paid for a least time."
    ),
    "us_federal.rest_breaks": sentence("A break shorter than a meal is paid; each is judged alone."),
    "us_federal.rounding": sentence("Where paid time begins and ends moves to the nearest increment of civil time."),
    "us_federal.workweek": sentence("Cuts time where the workweek begins; nothing is averaged over two weeks."),
    "us_federal.overtime": sentence("What lies past the limit of the workweek is overtime."),
    "us_eight_and_eighty.workday": sentence("Cuts time at workdays and workweeks."),
    "us_eight_and_eighty.daily": sentence("What lies past the limit of the workday is overtime."),
    "us_eight_and_eighty.fortnight": sentence("Ordinary hours past the limit of the 14 days are overtime."),
    "us_public_safety.work_period": sentence("Hours past the most of a work period of 7 to 28 days are overtime."),
    "california.no_rounding": sentence("Refuses rounding, grace that takes time, trifles and automatic meals."),
    "california.workday": sentence("Cuts time at workdays and workweeks."),
    "california.daily": sentence("Past the first limit of the workday overtime, past the second double time."),
    "california.alternative_workweek": sentence("Days of an alternative schedule have longer limits."),
    "california.health_care_schedule": sentence("Days of an alternative schedule in health care have longer limits."),
    "california.seventh_day": sentence(
        "The seventh workday worked in a workweek is overtime at first, then double time."
    ),
    "california.weekly": sentence("Ordinary hours past the limit of the workweek are overtime; no hour counts twice."),
    "california.meal_periods": sentence("An hour's pay for a workday on which a meal period did not begin in time."),
    "california.rest_periods": sentence("States the paid rest periods to which a shift entitles."),
    "california.split_shift": sentence("A shift split by a long unpaid gap may owe an hour at the minimum wage."),
    "california.reporting_time": sentence(
        "Who reports for work and is given too little of it is paid for part of the day."
    ),
    "alaska.workday": sentence("Cuts time at workdays and workweeks."),
    "alaska.daily": sentence("What lies past the limit of the day is overtime."),
    "alaska.weekly": sentence("Ordinary hours past the limit of the workweek are overtime."),
    "nevada.moving_workday": sentence(
        "Below so many times the minimum wage, work past the limit in 24 hours is overtime."
    ),
    "nevada.weekly": sentence("Ordinary hours past the limit of the workweek are overtime."),
    "colorado.workday": sentence("Cuts time at workdays and workweeks."),
    "colorado.twelve_hours": sentence("Past the limit of the workday, or of consecutive hours, is overtime."),
    "colorado.weekly": sentence("Ordinary hours past the limit of the workweek are overtime."),
    "eu_2003_88.workweek": sentence("Cuts time where the week begins; what is paid is for national law."),
}
LIMITS = sentence("Checked beside the rules; breaches are found on Today, and no paid second changes.")
WAGE = sentence("What is paid for every hour worked at least; of those that bind the highest is owed.")

REMARKS = (
    sentence("date of effect from memory"),
    sentence("figure from memory, confirm it"),
    sentence("figure from the press, confirm it"),
    sentence("figure from the press, date from memory"),
    sentence("figure second hand, confirm it"),
    sentence("confirm it"),
    sentence("national law may allow 24 for objective reasons"),
    sentence("the break's length is for national law and agreements"),
    sentence("a reading of ours of {law}, which names no length"),
    sentence("{law}, from memory"),
    sentence("{law} as amended in {year}"),
    sentence("{law} (rest periods of 5 minutes to about 20 minutes)"),
    sentence("{law} (nearest 5 minutes, one-tenth or quarter of an hour)"),
)
"""What sources say beside a law's name; the laws are called as they call themselves."""

STEERED_BY: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "recorded.repeats": (("policy", "repeat_seconds"),),
    "recorded.pairing": (("policy", "longest_span_hours"), ("policy", "shift_gap_hours")),
    "recorded.grace": (("policy", "grace"),),
    "recorded.trifles": (("policy", "trifle_seconds"),),
    "recorded.automatic_meal": (("policy", "automatic_meal"),),
    "recorded.call_back": (("policy", "call_back_hours"),),
    "us_federal.rest_breaks": (("policy", "meal_minutes"),),
    "us_federal.rounding": (("site", "rounding_minutes"),),
    "us_federal.workweek": (("site", "workweek_starts"),),
    "california.alternative_workweek": (("site", "alternative_day_hours"), ("site", "alternative_days")),
    "california.health_care_schedule": (("site", "health_care_schedule"),),
    "california.meal_periods": (("site", "first_meal_waived"), ("site", "second_meal_waived")),
    "us_eight_and_eighty.fortnight": (("site", "fortnight_begins"),),
    "us_public_safety.work_period": (("site", "public_safety"), ("site", "work_period_days")),
}
"""The settings on which a rule rests: the table, that of the site where it is `site`, and the key."""

IDLE: Mapping[str, Callable[[SiteRules, Policy], bool]] = {
    "recorded.grace": lambda rules, policy: policy.grace == Grace(),
    "recorded.trifles": lambda rules, policy: not policy.trifle_s,
    "recorded.automatic_meal": lambda rules, policy: policy.automatic_meal is None,
    "recorded.call_back": lambda rules, policy: not policy.call_back_s,
    "us_federal.rounding": lambda rules, policy: not rules.rounding_s,
    "california.daily": lambda rules, policy: bool(rules.alternative_day_s),
    "california.alternative_workweek": lambda rules, policy: not rules.alternative_day_s or _is_care(rules),
    "california.health_care_schedule": lambda rules, policy: not _is_care(rules),
}
"""Rules that do nothing while a setting leaves them out."""
LONG_DAY_S = 10 * 3600


@dataclass(frozen=True)
class NumberInForce:
    """A number of a rule: its `value` on the day in `unit`, since when, by which source; `is_own` where the workplace
    has put its own in the place of the law's, in `file` of `rules/`, which holds or would hold it.

    `later` are values that are known to follow, each with its date and source.
    """

    name: str
    meaning: str
    unit: str
    value: int | tuple[int, ...] | None
    since: date | None
    cites: str
    is_own: bool
    file: str
    later: tuple[tuple[date, int | tuple[int, ...], str], ...]


@dataclass(frozen=True)
class RuleInForce:
    """A rule: its name, what it does, its sources, its numbers, and the settings (table and key) that it rests on.

    `is_idle` says that it does nothing there, since a setting leaves it out.
    """

    name: str
    says: str
    cites: tuple[str, ...]
    is_idle: bool
    numbers: tuple[NumberInForce, ...]
    settings: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class RulesInForce:
    """What binds a site on a day: the jurisdiction, its rules in order, and the minimum wage it holds pay against."""

    jurisdiction: str
    title: str
    sources: str
    based_on: str
    rules: tuple[RuleInForce, ...]


def jurisdiction_titles(own: Mapping[str, OwnRules] | None = None) -> dict[str, str]:
    """Return every jurisdiction by name with what a person calls it, the workplace's own among them."""
    mine = {
        name: told("{name}, after {title}", name=name, title=told(JURISDICTIONS[one.based_on].title))
        for name, one in (own or {}).items()
        if one.based_on in JURISDICTIONS and name not in JURISDICTIONS
    }
    return {name: one.title for name, one in JURISDICTIONS.items()} | mine


def rules_in_force(rules: SiteRules, policy: Policy, own: Mapping[str, OwnRules], day: date) -> RulesInForce:
    """Return the rules of a site on a day (`SiteRules.on`); raises Refusal for a jurisdiction that is not known."""
    jurisdiction, numbers = jurisdiction_of(rules.jurisdiction, own, site=rules.site)
    mine, folder = own.get(rules.jurisdiction), rules.jurisdiction

    def numbers_of(rule: str) -> tuple[NumberInForce, ...]:
        return tuple(_number(one, rule, folder, mine, day) for one in numbers.get(rule, {}).values())

    found = [
        RuleInForce(
            one.name,
            SAYS[one.name],
            tuple(cites.where for cites in one.cites),
            one.name in IDLE and IDLE[one.name](rules, policy),
            numbers_of(one.name),
            STEERED_BY.get(one.name, ()),
        )
        for one in jurisdiction.rules
    ]
    if jurisdiction.limits is not None:
        name = jurisdiction.limits.name
        found.append(RuleInForce(name, LIMITS, (jurisdiction.sources,), False, numbers_of(name), ()))
    if wages := tuple(_wages(rules, own, folder, mine, day)):
        cites = pay_laws([rules.jurisdiction], own)[rules.jurisdiction].minimum_wage_source(day)
        found.append(RuleInForce(f"{jurisdiction.name}.minimum_wage", WAGE, (cites,), False, wages, ()))
    return RulesInForce(
        rules.jurisdiction, jurisdiction.title, jurisdiction.sources, mine.based_on if mine else "", tuple(found)
    )


def number_known(folder: str, stem: str, name: str, own: Mapping[str, OwnRules]) -> Parameter | None:
    """Return a number as it holds in a folder of `rules/`, by the file's stem and its name there; None for none."""
    based_on = own[folder].based_on if folder in own else folder
    if based_on not in JURISDICTIONS:
        return None
    numbers = jurisdiction_of(folder, own)[1] if folder in own else JURISDICTIONS[based_on].numbers
    return numbers.get(f"{based_on}.{stem}", {}).get(name)


def _wages(
    rules: SiteRules, own: Mapping[str, OwnRules], folder: str, mine: OwnRules | None, day: date
) -> Iterator[NumberInForce]:
    """Yield each minimum wage that binds, once."""
    jurisdiction, numbers = jurisdiction_of(rules.jurisdiction, own)
    rule = f"{jurisdiction.name}.minimum_wage"
    seen: list[Parameter] = list(numbers.get(rule, {}).values())
    yield from (_number(one, rule, folder, mine, day) for one in seen)
    for wage in jurisdiction.pay.minimum_wages:
        if wage not in seen and wage != jurisdiction.minimum_wage:
            seen.append(wage)
            yield _number(wage, "", folder, None, day)


def _number(of: Parameter, rule: str, folder: str, mine: OwnRules | None, day: date) -> NumberInForce:
    stem = rule.partition(".")[2]
    own: Mapping[str, Any] = mine.files.get(stem, {}) if mine else {}
    begun = [one for one in of.values if one[0] <= day]
    since, value, cites = begun[-1] if begun else (None, None, None)
    is_own = of.name in own and since is not None and any(since == one for one, _, _ in own[of.name].values)
    is_shared = not rule or not rule.startswith(_base(folder, mine))
    return NumberInForce(
        of.name,
        of.meaning,
        of.unit,
        value,
        since,
        cites.where if cites else sentence("no value is known for that day"),
        is_own,
        "" if is_shared else f"rules/{folder}/{stem}.toml",
        tuple((at, later, source.where) for at, later, source in of.values if at > day),
    )


def _base(folder: str, mine: OwnRules | None) -> str:
    return f"{mine.based_on if mine else folder}."


def _is_care(rules: SiteRules) -> bool:
    return rules.health_care and rules.alternative_day_s > LONG_DAY_S
