"""What each payroll is handed for a period: all that is owed to its people, in its own columns."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import polars as pl

from evenhand import pay
from evenhand.jobs.pay import EverybodysPay
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.today import Today
from evenhand.pay import PayrollRow, PayrollTable
from evenhand.terms.columns import Frame
from evenhand.terms.handed_off import HANDED_OFF, HANDED_OFF_LINES
from evenhand.terms.languages import DaySpan, told
from evenhand.terms.payroll import DIFFERENTIAL, EARNED_ITEMS, ON_EARNINGS, PREMIUM_ITEMS, ImportDefinition
from evenhand.terms.records import Refusal

__all__ = ["ToldBeside", "money_told", "payroll_tables"]

NO_COLUMN = PREMIUM_ITEMS["split_shift"]
"""Owed in money where pay is known and in hours where it is not, so that no column of either always stands for it."""


@dataclass(frozen=True)
class ToldBeside:
    """What other files tell (HANDED_OFF_LINES): of the period itself, which its file leaves out, and `before` of the
    earlier ones of which it carries what `adjusts` them (HANDED_OFF); with the `printed` figures by file.
    """

    of_period: Frame = field(default_factory=HANDED_OFF_LINES.empty)
    adjusts: Frame = field(default_factory=HANDED_OFF.empty)
    before: Frame = field(default_factory=HANDED_OFF_LINES.empty)
    printed: Mapping[int, Frame] = field(default_factory=dict)

    @property
    def told(self) -> pay.ToldBefore:
        """Return what was told of the file's rows before, and as what it was printed."""
        return pay.told_before(self.of_period, self.before, self.printed)


def payroll_tables(
    reckoning: Reckoning, today: Today, beside: ToldBeside | None = None, *, may_be_empty: bool = False
) -> tuple[PayrollTable, ...]:
    """Return the table of each payroll, for the period that `today` is about, less what is told `beside` it.

    Raises Refusal where nobody is owed anything, unless the tables `may_be_empty`, as those that replace a file of what
    turned out not to have been worked; where a table would leave out anything that is owed, and where
    something is owed to somebody whom no payroll would be told of.
    """
    settings = reckoning.snapshot.settings
    first, last = today.period.first, today.period.last
    paid = reckoning.pay_between(first, last)
    beside = beside or ToldBeside()
    owed = pay.less_told(_owed(today, paid), pay.owed_of_lines(pay.net(beside.of_period), adjusts=False))
    owed = pl.concat([owed, pay.owed_of_lines(beside.adjusts, adjusts=True)])
    if owed.is_empty() and not may_be_empty:
        raise Refusal(
            told(
                "nobody has hours in {days}; take that period's punch logs first.",
                days=DaySpan(first, last),
            )
        )
    _refuse_unpaid_earnings(reckoning, today)
    names = [one.name for one in settings.policy.differentials]
    tables = []
    for definition, theirs in _by_definition(settings.import_definitions, owed, today.people):
        told_already = beside.told.of(_paid_by(definition, settings.import_definitions, today.people))
        tables.append(_table(reckoning, today, definition, theirs, paid, names, told_already))
    return tuple(tables)


def money_told(tables: Iterable[PayrollTable], differentials: Iterable[str]) -> frozenset[str]:
    """Return the items of which these tables tell money; `differential:` stands for every differential.

    `on_earnings:` among them says that what rests on earnings is on record too, of the items that are told in hours.
    """
    known = pay.FIELDS | pay.differential_fields(differentials)
    fields = (known.get(name) for table in tables for name in table.definition.fields)
    return frozenset({ON_EARNINGS, *(item for one in fields if one is not None and one.is_money for item in one.items)})


def _owed(today: Today, paid: EverybodysPay) -> Frame:
    """Return what is owed for the period (OWED)."""
    hours = today.hours
    return pay.owed_items(hours.weeks, hours.premiums, hours.differentials, paid.weeks, paid.items)


def _table(
    reckoning: Reckoning,
    today: Today,
    definition: ImportDefinition,
    owed: Frame,
    paid: EverybodysPay,
    differentials: Sequence[str],
    told: pay.ToldBefore,
) -> PayrollTable:
    def rows(*, by_week: bool) -> list[PayrollRow]:
        period = (today.period.first, today.period.last)
        return pay.payroll_rows(owed, today.people, period, by_week=by_week, pay_weeks=paid.weeks, told=told)

    if not definition.columns:
        columns = pay.default_columns(_usual(reckoning, differentials), rows(by_week=True))
        definition = definition.with_columns(columns)
    asked = pay.asked_by(definition, differentials)
    listed = pay.rows_to_print(asked, rows(by_week=asked.by_week))
    pay.check_all_handed_over(asked, listed)
    return pay.payroll_table(asked, listed)


def _usual(reckoning: Reckoning, differentials: Sequence[str]) -> list[str]:
    """Return what this workplace owes now and then: premiums it came to owe, differentials, kinds of earnings."""
    kinds = set(reckoning.hours.premiums["kind"].unique())
    earned = set(reckoning.snapshot.earnings["kind"].unique())
    return [
        *(item for kind, item in PREMIUM_ITEMS.items() if kind in kinds and item != NO_COLUMN),
        *(DIFFERENTIAL + name for name in differentials),
        *(item for kind, item in EARNED_ITEMS.items() if kind in earned),
    ]


def _by_definition(
    definitions: Sequence[ImportDefinition], owed: Frame, people: Frame
) -> list[tuple[ImportDefinition, Frame]]:
    """Part what is owed by the payroll that pays it: by site, the rest with the one that names no sites."""
    if len(definitions) == 1 and not definitions[0].sites:
        return [(definitions[0], owed)]
    sites = people.select("person", site=pl.col("site").fill_null(""))
    placed = owed.join(sites, on="person", how="left", maintain_order="left").with_columns(pl.col("site").fill_null(""))
    named = [site for one in definitions for site in one.sites]
    missing = placed.filter(~pl.col("site").is_in(named))
    rest = [one for one in definitions if not one.sites]
    if missing.height and not rest:
        site, person = missing.select("site", "person").row(0)
        raise Refusal(
            told(
                "evenhand.toml [payroll]: no payroll is told of {where}, where {person} is owed pay; add the site to "
                "one, or let one name no sites.",
                where=told("the site {site}", site=site) if site else told("people without a site"),
                person=person,
            )
        )
    parted = []
    for one in definitions:
        mine = pl.col("site").is_in(one.sites) if one.sites else ~pl.col("site").is_in(named)
        theirs = placed.filter(mine).drop("site")
        if theirs.height or owed.is_empty():
            parted.append((one, theirs))
    return parted


def _paid_by(definition: ImportDefinition, definitions: Sequence[ImportDefinition], people: Frame) -> set[str]:
    """Return whom a payroll pays: those of its sites, or of all that no other names."""
    others = {site for one in definitions if one is not definition for site in one.sites}
    site = pl.col("site").fill_null("")
    theirs = site.is_in(definition.sites) if definition.sites else ~site.is_in(list(others))
    return set(people.filter(theirs)["person"])


def _refuse_unpaid_earnings(reckoning: Reckoning, today: Today) -> None:
    """Refuse where somebody earned something in the period whom pay leaves out, since no rules bind them."""
    of = reckoning.snapshot
    bound = today.people.filter(pl.col("site").fill_null("").is_in(list(of.rules)))
    due = of.earnings.filter(pl.col("earned_to").is_between(today.period.first, today.period.last))
    lost = due.join(bound, on="person", how="anti")
    if lost.height:
        person, kind = lost.sort("person").select("person", "kind").row(0)
        raise Refusal(
            told(
                "{person} earned a {kind:again} in the period, but is not on the roster, or at no site whose rules are "
                "known; take a roster that lists them, or give the site's rules.",
                person=person,
                kind=kind.replace("_", " "),
            )
        )
