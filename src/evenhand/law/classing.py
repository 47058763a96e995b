"""Apply a jurisdiction's rules in their written order, and keep what each one did."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from evenhand.law.jurisdiction import Rule
from evenhand.law.site import Site
from evenhand.law.spans import Changes, Column, Spans

__all__ = ["Account", "apply_rules"]


@dataclass(frozen=True)
class Account:
    """What the rules did: the changes of each in order, and how far each moved the bounds between classes.

    `classed` holds, for each rule that looked at the class of time, its name and the instants from which each piece is
    overtime and double time after it; a rule that binds nobody at the site hands on the very spans and is not in it.
    """

    changes: list[tuple[Rule, Changes]] = field(default_factory=list)
    classed: list[tuple[str, Column, Column]] = field(default_factory=list)


def apply_rules(rules: Sequence[Rule], spans: Spans, site: Site, *, in_full: bool) -> tuple[Spans, Account]:
    """Return the spans as the rules leave them, and the account of it.

    The account is read from the very columns that paid. It holds the changes of every rule where it is kept `in_full`;
    else those of the rules that move time, which have the seconds.
    """
    account = Account()
    for rule in rules:
        before, spans = spans, rule.apply(spans, site)
        if (in_full or rule.effect == "moves") and (changes := rule.changes(before, spans, site)):
            account.changes.append((rule, changes))
        if rule.effect == "classes" and spans is not before:
            account.classed.append((rule.name, spans.paid.overtime_from, spans.paid.double_from))
    return spans, account
