"""What each jurisdiction says of pay, with the workplace's own numbers in place of its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import ModuleType

from evenhand.law import alaska, california, colorado, eu_2003_88, nevada, us_eight_and_eighty, us_federal
from evenhand.law.own import numbers_of
from evenhand.law.parameters import read_parameters
from evenhand.terms.parameters import Numbers, OwnRules, Parameter
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.records import Refusal

__all__ = ["pay_laws"]

ROOMS: dict[str, ModuleType] = {
    room.__name__.rpartition(".")[2]: room
    for room in (alaska, california, colorado, eu_2003_88, nevada, us_eight_and_eighty, us_federal)
}


def pay_laws(jurisdictions: Iterable[str], own: Mapping[str, OwnRules] | None = None) -> dict[str, PayLaw]:
    """Return what these jurisdictions, shipped or the workplace's `own`, say of pay; raises Refusal for an unknown one.

    A minimum wage is a number like any other, so a workplace's own jurisdiction may hold a local one.
    """
    return {name: _pay_law(name, (own or {}).get(name)) for name in jurisdictions}


def _pay_law(name: str, own: OwnRules | None) -> PayLaw:
    numbers = numbers_of(own) if own else {}
    room = ROOMS.get(own.based_on if own else name)
    if room is None:
        raise Refusal(f"the jurisdiction {name!r} is not known; use {' or '.join(sorted(ROOMS))}.")
    law: PayLaw = room.PAY_LAW
    return replace(law, minimum_wages=tuple(_minimum_wage(rule, numbers) for rule in room.MINIMUM_WAGES))


def _minimum_wage(rule: str, numbers: Numbers) -> Parameter:
    package, _, file = rule.rpartition(".")
    shipped = read_parameters(f"evenhand.law.{package}", file)["minimum_wage"]
    own = numbers.get(rule, {}).get("minimum_wage")
    return shipped.overridden(own) if own else shipped
