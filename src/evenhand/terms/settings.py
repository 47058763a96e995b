"""What a workplace decides for itself: sites, their rules, pay periods and policies."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from evenhand.terms.languages import told
from evenhand.terms.payroll import ImportDefinition, PayrollColumn

__all__ = [
    "WEEKDAYS",
    "AutomaticMeal",
    "ConsentRule",
    "ConsentRules",
    "Differential",
    "Grace",
    "Intake",
    "PayPeriod",
    "Period",
    "Policy",
    "RatePeriod",
    "Retention",
    "Settings",
    "SiteRules",
]

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
RatePeriod = Literal["workweek", "fortnight", "work_period"]
"""The time over which a law takes the regular rate, by the rule of a site that says when it begins."""


@dataclass(frozen=True)
class SiteRules:
    """The rules that bind one site. `workweek_day` 0 is Monday; `workweek_s` is seconds after midnight.

    Where the law has workdays they begin at that same time of day. `alternative_day_s`: the daily limit of an
    alternative or flexible schedule that was properly adopted, 0 for none; `alternative_days` are its weekdays where
    they are the same for everybody, `health_care` says that it is one of health care. `first_meal_waived` and
    `second_meal_waived` name the people who agreed to waive it; "*" is everybody. `fortnight` is the first day of
    any 14-day period, where the law counts in them. `public_safety` is fire_protection or law_enforcement where the
    law counts in work periods of `work_period_days`, any one of which begins on `work_period`. `holidays` names a
    public calendar, such as US or US-CA. `place` is where its laws of privacy and records are looked for (ISO 3166).
    `since` is the date of effect; `changes` are later rules of the same site,
    earliest first. Rules change with the first workweek that begins on their date or after it.
    """

    site: str
    zone: str
    jurisdiction: str = "us_federal"
    workweek_day: int = 6
    workweek_s: int = 0
    rounding_s: int = 0
    alternative_day_s: int = 0
    alternative_days: tuple[int, ...] = ()
    health_care: bool = False
    first_meal_waived: tuple[str, ...] = ()
    second_meal_waived: tuple[str, ...] = ()
    fortnight: date | None = None
    public_safety: str = ""
    work_period_days: int = 0
    work_period: date | None = None
    holidays: str = ""
    place: str = ""
    since: date | None = None
    changes: tuple[SiteRules, ...] = ()

    @property
    def named(self) -> str:
        """Return what the site is called in a sentence."""
        return told("site {site}", site=self.site) if self.site else told("people without a site")

    @property
    def first_workweek(self) -> date:
        """Return the first day on or after `since` on which a workweek begins; the first day of all without one."""
        since = self.since or date.min
        return since + timedelta(days=(self.workweek_day - since.weekday()) % 7)

    def on(self, day: date) -> SiteRules:
        """Return the rules in force on `day`, without the changes before and after them."""
        in_force = [rules for rules in self.changes if rules.first_workweek <= day]
        return replace(in_force[-1] if in_force else self, changes=())

    def rate_period(self, kind: RatePeriod, workweek: date) -> tuple[date, int]:
        """Return the first day and the days of the period that holds a workweek; the workweek where none is named.

        Hours are refused where the law counts in periods and the site names none, so nothing is paid at that rate.
        """
        named = {"fortnight": (self.fortnight, 14), "work_period": (self.work_period, self.work_period_days)}
        anchor, days = named.get(kind, (None, 7))
        if anchor is None or not days:
            return workweek, 7
        return workweek - timedelta(days=(workweek - anchor).days % days), days

    def workweeks(self, first: date, last: date) -> list[date]:
        """Return the days from `first` to `last` on which a workweek begins, under the rules in force on each."""
        days = (first + timedelta(days=days) for days in range((last - first).days + 1))
        return [day for day in days if self.on(day).workweek_day == day.weekday()]

    def between(self, first: date, last: date) -> list[tuple[date, SiteRules]]:
        """Return the rules of the workweeks that begin from `first` to `last`, each with its first day there."""
        found: list[tuple[date, SiteRules]] = []
        for day in self.workweeks(first, last):
            if not found or found[-1][1] != self.on(day):
                found.append((day, self.on(day)))
        return found


@dataclass(frozen=True)
class Grace:
    """How far from a scheduled bound a punch may lie and still count as that bound [s], in each direction."""

    start_early_s: int = 0
    start_late_s: int = 0
    end_early_s: int = 0
    end_late_s: int = 0

    @property
    def takes_time(self) -> bool:
        """Tell whether it can pay less than was recorded."""
        return self.start_early_s > 0 or self.end_late_s > 0


@dataclass(frozen=True)
class AutomaticMeal:
    """A meal period deducted without punches: `length_s` of it, `at_s` into a shift longer than `after_s`."""

    length_s: int
    after_s: int
    at_s: int


@dataclass(frozen=True)
class Differential:
    """A window in which time carries a premium rate: on `days` (0 is Monday) or on public holidays.

    It lasts from `starts_s` to `ends_s` after midnight, civil time at the site; into the next day where it ends
    no later than it starts. It pays `an_hour` more, or `multiple` times the hourly rate, or both; where neither is
    given, pay that would hold it is not known.
    """

    name: str
    days: tuple[int, ...] = ()
    on_holidays: bool = False
    starts_s: int = 0
    ends_s: int = 86_400
    an_hour: Decimal = Decimal(0)
    multiple: Decimal = Decimal(1)

    @property
    def is_of_days(self) -> bool:
        """Whether it is paid because of the day and not of the hour: some weekdays or holidays, the whole day."""
        return len(self.days) < 7 and (self.starts_s, self.ends_s) == (0, 86_400)


@dataclass(frozen=True)
class Policy:
    """Settings the law leaves to the workplace; all in seconds.

    `repeat_gap_s`: of two presentations closer than this the second is a repeat. `longest_span_s`: somebody who is in
    and has not punched for longer has missed a punch. `long_span_s`: a span above it is paid, and asked about.
    `shift_gap_s`: somebody who is out for longer has ended the shift. `meal_s`: a punched gap at least this
    long is an unpaid meal; a shorter one is paid rest. `trifle_s`: a shift shorter than this is not paid.
    `call_back_s`: what a call-back outside the schedule is paid for at least.
    """

    repeat_gap_s: int = 60
    longest_span_s: int = 14 * 3600
    long_span_s: int = 13 * 3600
    shift_gap_s: int = 5 * 3600
    meal_s: int = 30 * 60
    trifle_s: int = 0
    call_back_s: int = 0
    grace: Grace = Grace()
    automatic_meal: AutomaticMeal | None = None
    differentials: tuple[Differential, ...] = ()


@dataclass(frozen=True)
class PayPeriod:
    """Pay periods of `weeks` workweeks counted from `anchor`; payroll wants the file `deadline_s` after the end."""

    anchor: date
    weeks: int = 1
    deadline_s: int = 36 * 3600


@dataclass(frozen=True)
class Period:
    """A pay period: its first and last civil days, both included, and the instant by which payroll wants its file."""

    first: date
    last: date
    deadline: int


@dataclass(frozen=True)
class Intake:
    """A folder that is watched for files to take: its path, empty where none is.

    A file is looked at once neither its size nor its time has changed for `quiet_s`; one that is taken is moved to
    `taken/` in the folder where `is_moved`, and left where it lies otherwise.
    """

    folder: str = ""
    quiet_s: int = 10
    is_moved: bool = True


@dataclass(frozen=True)
class ConsentRule:
    """Whether nobody is enrolled without a release in force, and the policy asked for; '' is the workplace's only one.

    It is required unless somebody says otherwise, since that protects.
    """

    is_required: bool = True
    policy: str = ""


@dataclass(frozen=True)
class ConsentRules:
    """What holds at sites that are not named, and what holds at those that are."""

    usual: ConsentRule = ConsentRule()
    sites: Mapping[str, ConsentRule] = field(default_factory=dict)

    def at(self, site: str | None) -> ConsentRule:
        """Return what holds at a site, or for people without one."""
        return self.sites.get(site or "", self.usual)

    def named(self, site: str | None, names: Collection[str]) -> frozenset[str]:
        """Return by which of the policies' `names` people of a site are asked: its own, or those of no other site."""
        own = self.at(site).policy
        if own:
            return frozenset({own} & set(names))
        return frozenset(names) - {rule.policy for rule in (self.usual, *self.sites.values())}


@dataclass(frozen=True)
class Retention:
    """How long records stay where the workplace decides for itself beside the law.

    `place` (ISO 3166) holds at sites that name none. `keep_years` are how long time records stay after the last entry,
    0 where the law alone decides. What is due within `notice_days` is asked about.
    """

    place: str = ""
    keep_years: int = 0
    notice_days: int = 14


@dataclass(frozen=True)
class Settings:
    """The whole of a workspace's settings file.

    `zone` holds at sites that neither the settings nor the readers place; `store` is the address of a team's
    database, empty where the workspace holds its own. `payrolls` are the import definitions of its payrolls.
    `authors` says which person of the roster decides under which name, where the name alone does not tell.
    `late_changes` is how changes of a period handed off are made good where nobody says otherwise: `adjust` or
    `replace`. `approval_demanded` says whether hours are handed off only once a supervisor approved them,
    `answer_days` in how many days a dispute is answered where no law says. A workplace that `is_invented` lives in
    times of its own: what is done there may bear another time than the machine's. `language` is the one in which the
    desk's pages speak to whoever has chosen none; empty for what the browser asks for. `paper` is one of PAPERS;
    empty for what is usual where the workplace lies (`workplace_paper`).
    """

    workplace: str
    period: PayPeriod
    sites: dict[str, SiteRules] = field(default_factory=dict)
    policy: Policy = Policy()
    handoff_columns: tuple[tuple[str, str], ...] = ()
    zone: str = ""
    store: str = ""
    intake: Intake = Intake()
    payrolls: tuple[ImportDefinition, ...] = ()
    late_changes: str = "adjust"
    consent: ConsentRules = ConsentRules()
    approval_demanded: bool = False
    answer_days: int = 14
    authors: Mapping[str, str] = field(default_factory=dict)
    retention: Retention = Retention()
    is_invented: bool = False
    language: str = ""
    paper: str = ""

    @property
    def import_definitions(self) -> tuple[ImportDefinition, ...]:
        """Return how each payroll wants its file; without one of its own, a file of `handoff_columns`."""
        columns = tuple(PayrollColumn(header, field) for header, field in self.handoff_columns)
        return self.payrolls or (ImportDefinition(columns=columns),)
