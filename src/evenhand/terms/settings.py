"""What a workplace decides for itself: sites, their rules, pay periods and policies."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

__all__ = ["WEEKDAYS", "PayPeriod", "Period", "Policy", "Settings", "SiteRules"]

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True)
class SiteRules:
    """The rules that bind one site. `workweek_day` 0 is Monday; `workweek_s` is seconds after midnight."""

    site: str
    zone: str
    jurisdiction: str = "us_federal"
    workweek_day: int = 6
    workweek_s: int = 0
    rounding_s: int = 0


@dataclass(frozen=True)
class Policy:
    """Settings the law leaves to the workplace; all in seconds.

    `double_s`: two presentations closer than this are one act. `longest_span_s`: somebody who is in and has
    not punched for longer has missed a punch. `long_span_s`: a span above it is paid, and asked about.
    `shift_gap_s`: somebody who is out for longer has ended the shift. `meal_s`: a punched gap at least this
    long is an unpaid meal; a shorter one is paid rest.
    """

    double_s: int = 60
    longest_span_s: int = 14 * 3600
    long_span_s: int = 13 * 3600
    shift_gap_s: int = 5 * 3600
    meal_s: int = 30 * 60


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
class Settings:
    """The whole of a workspace's settings file.

    `zone` holds at sites that neither the settings nor the readers place; `store` is the address of a team's
    database, empty where the workspace holds its own.
    """

    workplace: str
    period: PayPeriod
    sites: dict[str, SiteRules] = field(default_factory=dict)
    policy: Policy = Policy()
    handoff_columns: tuple[tuple[str, str], ...] = ()
    zone: str = ""
    store: str = ""
