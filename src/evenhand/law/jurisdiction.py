"""What a rule and a jurisdiction are: one record each, so that adding one is writing one down."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Any, Literal, Protocol

import numpy as np

from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Spans
from evenhand.terms.columns import Frame
from evenhand.terms.parameters import Numbers, Parameter
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.records import Citation

__all__ = ["Effect", "Jurisdiction", "Limits", "Pass", "Rule", "changed"]

Effect = Literal["reads", "cuts", "moves", "classes", "owes"]
"""What a rule may do to time: read punches, cut it at lines, change which seconds are paid, change their class, find
what is owed beside them. Only rules that move time have steps with seconds."""


class Rule(Protocol):
    """A pass over columns with its name, source and numbers, and the account of what it did."""

    @property
    def name(self) -> str:
        """Return the jurisdiction and the rule, such as us_federal.overtime."""

    @property
    def cites(self) -> tuple[Citation, ...]:
        """Return where it comes from."""

    @property
    def effect(self) -> Effect:
        """Return what it may do to time."""

    @property
    def numbers(self) -> tuple[Parameter, ...]:
        """Return its dated numbers."""

    def apply(self, spans: Spans, site: Site) -> Spans:
        """Return the spans as the rule leaves them."""

    def changes(self, before: Spans, after: Spans, site: Site) -> Changes | None:
        """Return what it did, read off the columns before and after; None where there is nothing to say."""


def _nothing(before: Spans, after: Spans, site: Site) -> None:
    """Return nothing: what is owed stands in a table of its own, and no other time was changed."""


@dataclass(frozen=True)
class Pass:
    """A rule of a module of its own."""

    name: str
    cites: tuple[Citation, ...]
    effect: Effect
    apply: Callable[[Spans, Site], Spans]
    changes: Callable[[Spans, Spans, Site], Changes | None] = _nothing
    numbers: tuple[Parameter, ...] = ()


@dataclass(frozen=True)
class Limits:
    """Limits on working time that are checked and change no paid second: dated numbers, and the check.

    `find(classed, zone, numbers, weeks)` returns BREACHES for spans (CLASSED); `zone` is where the night is, and
    `weeks` are the first days of the first and the last workweek looked at, or None for all.
    """

    name: str
    numbers: tuple[Parameter, ...]
    find: Callable[[Frame, str, Mapping[str, Parameter], tuple[date, date] | None], Frame]


@dataclass(frozen=True)
class Jurisdiction:
    """A law of working hours: its rules in order of application, their numbers and sources, and what it says of pay.

    `title` is what a person calls it, `sources` where it is written. `minimum_wage` [cent per hour] is its own, beside
    those in `pay` that bind as well. `limits` are checked beside the rules.
    """

    name: str
    title: str
    sources: str
    rules: tuple[Rule, ...]
    pay: PayLaw
    minimum_wage: Parameter | None = None
    limits: Limits | None = None

    @cached_property
    def numbers(self) -> Numbers:
        """Return all numbers it rests on, by rule and name."""
        found = {rule.name: rule.numbers for rule in self.rules}
        if self.limits:
            found[self.limits.name] = self.limits.numbers
        if self.minimum_wage:
            found[f"{self.name}.minimum_wage"] = (self.minimum_wage,)
        return {rule: {one.name: one for one in numbers} for rule, numbers in found.items() if numbers}


def changed(
    punch: Column,
    starts: Column,
    ends: Column,
    says: tuple[str, ...],
    words: Mapping[str, Any],
    *,
    sign: Column | int = 0,
    reason: Column | None = None,
    to_next: bool = False,
    rows: tuple[Column, Column] | None = None,
    classes: tuple[tuple[str, str], ...] = (),
) -> Changes:
    """Return changes whose `sign` is one for all or one a row, and which say the only sentence unless told a reason."""
    signs = np.full(len(punch), sign, np.int64) if isinstance(sign, int) else sign
    reasons = np.zeros(len(punch), np.int8) if reason is None else reason
    return Changes(punch, starts, ends, signs, says, reasons, words, to_next, rows, classes)
