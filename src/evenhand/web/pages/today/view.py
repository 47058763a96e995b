"""What Today shows: the period, what keeps it from payroll, and the cases that need somebody."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from urllib.parse import unquote, urlencode

from evenhand.jobs.listed_before import Changed
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.today import PeriodStanding, Today, titles_of_checks
from evenhand.jobs.together import open_absences, open_questions
from evenhand.terms.cases import Case
from evenhand.terms.languages import sentence, told
from evenhand.web.listing import WHOLE, pages_of
from evenhand.web.pages.today.case_view import CaseShown, shown_case

__all__ = ["CaseFilter", "Narrowing", "TodayView", "view"]

# As many as can be taken in at a glance; the others of a page unfold, and further pages follow.
AT_A_GLANCE, OF_A_PAGE = 20, 80


@dataclass(frozen=True)
class CaseFilter:
    """Which cases are asked for; everything where nothing is set.

    `kind` is that of the cause, or of findings. `period` is the first day of the pay period, None for the one payroll
    waits for; it narrows nothing. `opened` is the case that stands open, `then` the one that follows it; `hub` is the
    page of a person, reader or number from which it was opened, '' where from none.
    """

    blocking: bool = False
    kind: str = ""
    reader: str = ""
    period: date | None = None
    page: int = 1
    opened: str = ""
    then: str = ""
    hub: str = ""

    @property
    def is_all(self) -> bool:
        """Whether nothing is left out."""
        return not (self.blocking or self.kind or self.reader)

    @property
    def bare(self) -> CaseFilter:
        """Return the same list from its beginning, with nothing open."""
        return replace(self, page=1, opened="", then="", hub="")

    def takes(self, case: Case) -> bool:
        """Whether a case is asked for."""
        return (
            (case.blocks_pay or not self.blocking)
            and (not self.kind or case.kind == self.kind or any(one.code == self.kind for one in case.findings))
            and (not self.reader or self.reader in _readers(case))
        )

    @property
    def address(self) -> str:
        """Return where Today shows them."""
        asked = {
            "show_only": "pay" if self.blocking else "",
            "kind": self.kind,
            "reader": self.reader,
            "period": self.period.isoformat() if self.period else "",
            "page": str(self.page) if self.page != 1 else "",
            "open": self.opened,
            "then": self.then,
            "hub": self.hub,
        }
        parameters = urlencode({name: value for name, value in asked.items() if value})
        return ("/?" + parameters if parameters else "/") + ("#at" if self.opened else "")


def _readers(case: Case) -> set[str]:
    return {reader for one in case.findings for reader in (one.reader, *one.details.get("readers", ())) if reader}


@dataclass(frozen=True)
class Narrowing:
    """A link that narrows the list, with how many it leaves."""

    title: str
    value: str
    address: str
    count: int
    is_chosen: bool


@dataclass(frozen=True)
class TodayView:
    """The whole of Today: `first` are the cases in sight, `rest` unfold, `waiting` wait for others."""

    first: date
    last: date
    deadline: int
    seconds_left: int
    zone: str
    as_of: int
    has_charts: bool
    blocking: int
    total: int
    findings: int
    minutes: int
    closed_minutes: int
    narrowed: CaseFilter
    period_says: str
    earlier: str
    later: str
    settled: str
    cases: Sequence[CaseShown]
    rest: Sequence[CaseShown]
    waiting: Sequence[CaseShown]
    pages: int
    found: int
    changed: Changed
    choices: Sequence[Narrowing]
    kinds: Sequence[Narrowing]
    readers: Sequence[Narrowing]
    together: int

    @property
    def came_from(self) -> str:
        """Return what the page is called from which a case was opened: its person, reader or number."""
        return unquote(self.narrowed.hub.rpartition("/")[2])

    def page(self, number: int) -> str:
        """Return where a page of the list is."""
        return replace(self.narrowed.bare, page=number).address


STANDING = {
    PeriodStanding.AWAITED: sentence("ended; payroll waits for it"),
    PeriodStanding.HANDED_OFF: sentence("handed off"),
    PeriodStanding.OPEN: sentence("ended earlier and not handed off"),
    PeriodStanding.RUNNING: sentence("not ended yet"),
}


def view(
    today: Today,
    narrowed: CaseFilter,
    now: Reckoning,
    standing: PeriodStanding = PeriodStanding.AWAITED,
    changed: Changed | None = None,
) -> TodayView:
    """Return what Today shows of the cases asked for; `now` knows which period payroll waits for."""
    taken = [case for case in today.cases if narrowed.takes(case)]
    to_do, waiting = ([case for case in taken if bool(case.waits_for) == waits] for waits in (False, True))
    narrowed = _placed(narrowed, to_do, waiting)
    is_whole = narrowed.page == WHOLE
    page = to_do if is_whole else to_do[(narrowed.page - 1) * OF_A_PAGE : narrowed.page * OF_A_PAGE]
    compared = changed or Changed(None)
    shown = _shown(page, narrowed, compared)
    in_sight = max(AT_A_GLANCE, 1 + next((place for place, one in enumerate(shown) if one.is_open), 0))
    as_of = int(today.as_of.timestamp())
    return TodayView(
        first=today.period.first,
        last=today.period.last,
        deadline=today.period.deadline,
        seconds_left=today.period.deadline - as_of,
        zone=today.zone,
        as_of=as_of,
        has_charts=today.has_charts,
        blocking=sum(case.blocks_pay for case in today.cases),
        total=len(today.cases),
        findings=len(today.findings),
        minutes=sum(case.stake.minutes for case in today.cases),
        closed_minutes=sum(case.stake.closed_minutes for case in today.cases),
        narrowed=narrowed,
        period_says=told(STANDING[standing]),
        earlier=_of_period(now, today.period.first - timedelta(days=1)),
        later=_of_period(now, today.period.last + timedelta(days=1)),
        settled="/settled" + (f"?period={narrowed.period}" if narrowed.period else ""),
        cases=shown[:in_sight],
        rest=shown[in_sight:],
        waiting=_shown(waiting if is_whole else waiting[:OF_A_PAGE], narrowed, compared),
        pages=1 if is_whole else pages_of(len(to_do), OF_A_PAGE),
        found=len(to_do),
        changed=compared,
        choices=[
            _choice(
                told("Everything"), CaseFilter(period=narrowed.period), len(today.cases), is_chosen=narrowed.is_all
            ),
            _choice(
                told("Blocks pay"),
                CaseFilter(blocking=True, period=narrowed.period),
                sum(case.blocks_pay for case in today.cases),
                is_chosen=narrowed.blocking,
                value="pay",
            ),
        ],
        kinds=_kinds(today, narrowed),
        readers=_of_readers(today, narrowed),
        together=len(open_absences(today.cases)) + len(open_questions(today.cases)),
    )


def _placed(narrowed: CaseFilter, to_do: Sequence[Case], waiting: Sequence[Case]) -> CaseFilter:
    """Return the filter with the page on which its open case stands; where that is done, the one after it is open.

    A case that waits for others stands on every page; one that a step done has made wait gives way to the next.
    """
    keys = {case.key: place for place, case in enumerate(to_do)}
    here = WHOLE if narrowed.page == WHOLE else min(max(narrowed.page, 1), pages_of(len(to_do), OF_A_PAGE))
    if narrowed.opened not in keys and narrowed.then not in keys and any(one.key == narrowed.opened for one in waiting):
        return replace(narrowed, page=here)
    opened = narrowed.opened if narrowed.opened in keys else narrowed.then if narrowed.then in keys else ""
    if opened:
        return replace(narrowed, opened=opened, page=here and keys[opened] // OF_A_PAGE + 1)
    return replace(narrowed, page=here, opened="", then="")


def _shown(cases: Sequence[Case], narrowed: CaseFilter, changed: Changed) -> list[CaseShown]:
    following = [case.key for case in cases[1:]] + [""] * bool(cases)
    return [
        shown_case(
            case,
            here=replace(narrowed, opened=case.key, then=after).address,
            after=replace(narrowed, opened=after, then="").address if after else "",
            is_open=case.key == narrowed.opened,
            is_new=case.key in changed.new,
        )
        for case, after in zip(cases, following, strict=True)
    ]


def _of_period(now: Reckoning, day: date) -> str:
    """Return where Today shows the pay period of a day; '' where that has not begun."""
    period = now.period(day)
    if period.first > now.day:
        return ""
    return CaseFilter(period=None if period == now.period() else period.first).address


def _choice(title: str, to: CaseFilter, count: int, *, is_chosen: bool, value: str = "") -> Narrowing:
    return Narrowing(title, value, to.address, count, is_chosen)


def _kinds(today: Today, narrowed: CaseFilter) -> list[Narrowing]:
    """The kinds of causes, the most frequent first; a kind of findings where that is asked for."""
    titles = {case.kind: case.title for case in reversed(today.cases)}  # that of the most at stake
    counts = Counter(case.kind for case in today.cases)
    if narrowed.kind and narrowed.kind not in counts:
        code = CaseFilter(kind=narrowed.kind)
        titles[narrowed.kind] = titles_of_checks().get(narrowed.kind, (narrowed.kind, ""))[0]
        counts[narrowed.kind] = sum(code.takes(case) for case in today.cases)
    return [
        _choice(
            titles[kind],
            CaseFilter(kind=kind, period=narrowed.period),
            count,
            is_chosen=kind == narrowed.kind,
            value=kind,
        )
        for kind, count in counts.most_common()
    ]


def _of_readers(today: Today, narrowed: CaseFilter) -> list[Narrowing]:
    counts = Counter(reader for case in today.cases for reader in _readers(case))
    return [
        _choice(
            reader,
            CaseFilter(reader=reader, period=narrowed.period),
            count,
            is_chosen=reader == narrowed.reader,
            value=reader,
        )
        for reader, count in counts.most_common()
    ]
