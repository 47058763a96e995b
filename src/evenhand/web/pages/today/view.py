"""What Today shows: the period, what keeps it from payroll, and the findings by kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from urllib.parse import urlencode

from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.today import PeriodStanding, Today, titles_of_checks
from evenhand.terms.records import Finding
from evenhand.terms.words import as_day, as_span_of_days

__all__ = ["FindingFilter", "FindingGroup", "Narrowing", "SettledTogether", "TodayView", "view"]

# As many of a kind as can be taken in at a glance, and as many as unfold; a kind alone is listed further.
AT_A_GLANCE, UNFOLDED, MOST_OF_A_KIND = 3, 20, 200
# A form may hold a thousand answers.
MOST_TOGETHER = 500

CAUSES = {
    "stray": "whose punches may stand under another number",
    "not_enrolled": "enrolled at no reader there",
    "scheduled": "scheduled, no leave on file",
    "usual": "usually there on such days, no leave on file",
}
"""What may be behind a day without punches, as `no_punches` tells it."""


@dataclass(frozen=True)
class FindingFilter:
    """Which findings are asked for; everything where nothing is set.

    `period` is the first day of the pay period, None for the one payroll waits for; it narrows nothing.
    """

    blocking: bool = False
    kind: str = ""
    reader: str = ""
    period: date | None = None

    @property
    def is_all(self) -> bool:
        """Whether nothing is left out."""
        return not (self.blocking or self.kind or self.reader)

    def takes(self, finding: Finding) -> bool:
        """Whether a finding is asked for."""
        return (
            (finding.blocks_pay or not self.blocking)
            and (not self.kind or finding.code == self.kind)
            and (not self.reader or finding.reader == self.reader)
        )


@dataclass(frozen=True)
class Narrowing:
    """A link that narrows the list, with how many it leaves."""

    title: str
    value: str
    address: str
    count: int
    is_chosen: bool


@dataclass(frozen=True)
class SettledTogether:
    """Findings of one cause about people of one site, day by day, which one reason may settle.

    `days` names each run of days with its findings. `unlisted` are those beyond what one form may hold. `is_of_strays`
    tells that deciding whose punches under other numbers are answers them, so that they are not settled here.
    """

    title: str
    count: int
    days: Sequence[tuple[str, Sequence[Finding]]]
    unlisted: int
    is_of_strays: bool


@dataclass(frozen=True)
class FindingGroup:
    """Findings of one kind, in their order; `first` are in sight and `rest` unfold; `together` may have one reason."""

    code: str
    title: str
    why: str
    first: Sequence[Finding]
    rest: Sequence[Finding]
    unlisted: int
    address: str
    count: int
    minutes: int
    blocking: int
    together: Sequence[SettledTogether]


@dataclass(frozen=True)
class TodayView:
    """The whole of Today."""

    first: date
    last: date
    deadline: int
    seconds_left: int
    zone: str
    as_of: int
    has_charts: bool
    blocking: int
    total: int
    minutes: int
    most_minutes: int
    address: str
    narrowed: FindingFilter
    period_says: str
    earlier: str
    later: str
    settled: str
    groups: Sequence[FindingGroup]
    choices: Sequence[Narrowing]
    kinds: Sequence[Narrowing]
    readers: Sequence[Narrowing]


STANDING = {
    PeriodStanding.AWAITED: "ended; payroll waits for it",
    PeriodStanding.HANDED_OFF: "handed off",
    PeriodStanding.OPEN: "ended earlier and not handed off",
    PeriodStanding.RUNNING: "not ended yet",
}


def view(
    today: Today, narrowed: FindingFilter, now: Reckoning, standing: PeriodStanding = PeriodStanding.AWAITED
) -> TodayView:
    """Return what Today shows of the findings asked for; `now` knows which period payroll waits for."""
    taken = [finding for finding in today.findings if narrowed.takes(finding)]
    groups = _groups(taken, narrowed)
    as_of = int(today.as_of.timestamp())
    return TodayView(
        first=today.period.first,
        last=today.period.last,
        deadline=today.period.deadline,
        seconds_left=today.period.deadline - as_of,
        zone=today.zone,
        as_of=as_of,
        has_charts=today.has_charts,
        blocking=len(today.blockers),
        total=len(today.findings),
        minutes=sum(finding.stake.minutes for finding in today.findings),
        most_minutes=max((group.minutes for group in groups), default=0),
        address=_address(narrowed),
        narrowed=narrowed,
        period_says=STANDING[standing],
        earlier=_of_period(now, today.period.first - timedelta(days=1)),
        later=_of_period(now, today.period.last + timedelta(days=1)),
        settled="/settled" + (f"?period={narrowed.period}" if narrowed.period else ""),
        groups=groups,
        choices=[
            Narrowing(
                "Everything", "", _address(FindingFilter(period=narrowed.period)), len(today.findings), narrowed.is_all
            ),
            Narrowing(
                "Blocks pay",
                "pay",
                _address(FindingFilter(blocking=True, period=narrowed.period)),
                len(today.blockers),
                narrowed.blocking,
            ),
        ],
        kinds=_choices(today, "code", "kind", narrowed),
        readers=_choices(today, "reader", "reader", narrowed),
    )


def _of_period(now: Reckoning, day: date) -> str:
    """Return where Today shows the pay period of a day; '' where that has not begun."""
    period = now.period(day)
    if period.first > now.day:
        return ""
    return _address(FindingFilter(period=None if period == now.period() else period.first))


def _address(narrowed: FindingFilter) -> str:
    asked = {
        "show_only": "pay" if narrowed.blocking else "",
        "kind": narrowed.kind,
        "reader": narrowed.reader,
        "period": narrowed.period.isoformat() if narrowed.period else "",
    }
    parameters = urlencode({name: value for name, value in asked.items() if value})
    return "/?" + parameters if parameters else "/"


def _choices(today: Today, field: str, parameter: str, narrowed: FindingFilter) -> list[Narrowing]:
    """The values of one field, the most frequent first."""
    counts = Counter(value for finding in today.findings if (value := getattr(finding, field)))
    titles = titles_of_checks() if field == "code" else {}
    return [
        Narrowing(
            titles.get(value, (value, ""))[0],
            value,
            _address(replace(FindingFilter(period=narrowed.period), **{parameter: value})),
            count,
            value == getattr(narrowed, parameter),
        )
        for value, count in counts.most_common()
    ]


def _groups(findings: Sequence[Finding], narrowed: FindingFilter) -> list[FindingGroup]:
    """Kinds stand where their most urgent finding stands."""
    by_kind: dict[str, list[Finding]] = {}
    for finding in findings:
        by_kind.setdefault(finding.code, []).append(finding)
    titles, whole = titles_of_checks(), bool(narrowed.kind)
    return [
        FindingGroup(
            code=code,
            title=titles[code][0],
            why=titles[code][1],
            first=alike[: MOST_OF_A_KIND if whole else AT_A_GLANCE],
            rest=() if whole else alike[AT_A_GLANCE:UNFOLDED],
            unlisted=max(0, len(alike) - (MOST_OF_A_KIND if whole else UNFOLDED)),
            address=_address(replace(narrowed, kind=code)),
            count=len(alike),
            minutes=sum(finding.stake.minutes for finding in alike),
            blocking=sum(finding.blocks_pay for finding in alike),
            together=_together(alike) if code == "no_punches" else (),
        )
        for code, alike in by_kind.items()
    ]


def _together(alike: Sequence[Finding]) -> list[SettledTogether]:
    """Return the findings of each cause and site that has more than one, the earliest days first."""
    by_cause: dict[tuple[int, str], list[Finding]] = {}
    for finding in alike:
        place = list(CAUSES).index(finding.details["cause"])
        by_cause.setdefault((place, finding.details["site"]), []).append(finding)
    found = []
    for (place, site), theirs in sorted(by_cause.items()):
        if len(theirs) > 1:
            cause, says = list(CAUSES.items())[place]
            days = _by_days(theirs[:MOST_TOGETHER])
            title = f"{site or 'no site'}, {says}"
            found.append(
                SettledTogether(title, len(theirs), days, max(0, len(theirs) - MOST_TOGETHER), cause == "stray")
            )
    return found


def _by_days(findings: Sequence[Finding]) -> list[tuple[str, list[Finding]]]:
    by_days: dict[tuple[date, date], list[Finding]] = {}
    for finding in findings:
        assert finding.day is not None
        by_days.setdefault((finding.day, date.fromisoformat(finding.details["until"])), []).append(finding)
    return [
        (as_day(first) if first == last else as_span_of_days(first, last), theirs)
        for (first, last), theirs in sorted(by_days.items())
    ]
