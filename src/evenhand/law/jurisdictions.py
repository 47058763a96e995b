"""The jurisdictions that ship, and a workplace's own in their place: a shipped one with some of its numbers changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from evenhand.law import (
    alaska,
    california,
    colorado,
    eu_2003_88,
    nevada,
    us_eight_and_eighty,
    us_federal,
    us_public_safety,
)
from evenhand.law.jurisdiction import Jurisdiction
from evenhand.terms.columns import Frame
from evenhand.terms.hours import BREACHES
from evenhand.terms.languages import told
from evenhand.terms.parameters import Numbers, OwnRules
from evenhand.terms.pay_law import PayLaw
from evenhand.terms.records import Refusal
from evenhand.terms.settings import SiteRules

__all__ = ["JURISDICTIONS", "find_breaches", "jurisdiction_of", "limits_working_time", "pay_laws"]

JURISDICTIONS: dict[str, Jurisdiction] = {
    room.JURISDICTION.name: room.JURISDICTION
    for room in (alaska, california, colorado, eu_2003_88, nevada, us_eight_and_eighty, us_federal, us_public_safety)
}


def jurisdiction_of(
    name: str, own: Mapping[str, OwnRules] | None = None, *, site: str = ""
) -> tuple[Jurisdiction, Numbers]:
    """Return the jurisdiction `name`, or the one that the workplace's own of that name rests on, with its numbers.

    `site` is named in the Refusal that is raised for a jurisdiction that is not known.
    """
    mine = (own or {}).get(name)
    if mine is not None:
        return _based_on(mine)
    if name not in JURISDICTIONS:
        where = f"site {site}: " if site else ""
        raise Refusal(
            told(
                "{where}the jurisdiction {name} is not known; use {known}, or a folder of your own in rules/.",
                where=where,
                name=repr(name),
                known=" or ".join(sorted(JURISDICTIONS)),
            )
        )
    return JURISDICTIONS[name], JURISDICTIONS[name].numbers


def pay_laws(jurisdictions: Iterable[str], own: Mapping[str, OwnRules] | None = None) -> dict[str, PayLaw]:
    """Return what these jurisdictions, shipped or the workplace's `own`, say of pay; raises Refusal for an unknown one.

    A minimum wage is a number like any other, so a workplace's own jurisdiction may hold a local one.
    """
    return {name: _pay_law(*jurisdiction_of(name, own)) for name in jurisdictions}


def limits_working_time(rules: SiteRules, own: Mapping[str, OwnRules] | None = None) -> bool:
    """Whether the jurisdiction limits working time, so that there is something to look for."""
    return jurisdiction_of(rules.jurisdiction, own, site=rules.site)[0].limits is not None


def find_breaches(
    classed: Frame,
    rules: SiteRules,
    own: Mapping[str, OwnRules] | None = None,
    weeks: tuple[date, date] | None = None,
) -> Frame:
    """Return where spans (CLASSED) do not keep to the working-time limits of their jurisdiction (BREACHES), if any.

    `weeks` are the first days of the first and the last workweek whose shifts are looked at, or None for all; `classed`
    reaches a week beyond them on either side, so that a shift is whole and the rest before it is known.
    """
    jurisdiction, numbers = jurisdiction_of(rules.jurisdiction, own, site=rules.site)
    if jurisdiction.limits is None or classed.is_empty():
        return BREACHES.empty()
    return jurisdiction.limits.find(classed, rules.zone, numbers[jurisdiction.limits.name], weeks)


def _pay_law(jurisdiction: Jurisdiction, numbers: Numbers) -> PayLaw:
    mine = numbers.get(f"{jurisdiction.name}.minimum_wage", {})
    rules = {rule.name: tuple(cites.where for cites in rule.cites) for rule in jurisdiction.rules}
    wages = (*jurisdiction.pay.minimum_wages, *mine.values())
    return replace(jurisdiction.pay, minimum_wages=wages, rules=rules)


def _based_on(own: OwnRules) -> tuple[Jurisdiction, Numbers]:
    """Return what `own` rests on; raises Refusal, naming file and key, where it changes what no shipped rule has."""
    shipped = JURISDICTIONS.get(own.based_on)
    if shipped is None:
        raise Refusal(
            told(
                "rules/{name}: it rests on the jurisdiction {based_on}, which is not known; write "
                "jurisdiction.toml with based_on = one of {known}.",
                name=own.name,
                based_on=repr(own.based_on),
                known=", ".join(sorted(JURISDICTIONS)),
            )
        )
    numbers = dict(shipped.numbers)
    mine = {rule.partition(".")[2]: rule for rule in numbers if rule.startswith(f"{shipped.name}.")}
    for name, parameters in own.files.items():
        file = f"rules/{own.name}/{name}.toml"
        if name not in mine:
            raise Refusal(
                told(
                    "{file}: {based_on} has no rule {name} with numbers; its files are {known}.",
                    file=file,
                    based_on=own.based_on,
                    name=name,
                    known=", ".join(f"{one}.toml" for one in sorted(mine)),
                )
            )
        known = dict(numbers[mine[name]])
        for key, parameter in parameters.items():
            if key not in known:
                raise Refusal(
                    told(
                        "{file}: the key {key} is not known; the keys are {known}.",
                        file=file,
                        key=key,
                        known=", ".join(known),
                    )
                )
            if parameter.unit != known[key].unit:
                raise Refusal(
                    told(
                        "{file}: {key} has unit = {unit}; the rule counts in {counts}: convert it.",
                        file=file,
                        key=key,
                        unit=repr(parameter.unit),
                        counts=repr(known[key].unit),
                    )
                )
            is_list = isinstance(known[key].values[0][1], tuple)
            if any(isinstance(value, tuple) != is_list for _, value, _ in parameter.values):
                wanted = told("a list of numbers, such as [5, 15]") if is_list else told("one number")
                raise Refusal(
                    told(
                        "{file}: {key} has a value of another form; the rule wants {wanted}.",
                        file=file,
                        key=key,
                        wanted=wanted,
                    )
                )
            known[key] = known[key].overridden(parameter)
        numbers[mine[name]] = known
    return shipped, numbers
