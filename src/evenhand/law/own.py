"""A workplace's own jurisdictions: a shipped one with some of its dated numbers changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from importlib import resources

from evenhand.law.classing import JURISDICTIONS
from evenhand.law.parameters import read_parameters
from evenhand.terms.parameters import Numbers, OwnRules
from evenhand.terms.records import Refusal
from evenhand.terms.settings import SiteRules

__all__ = ["check_own", "numbers_of", "resolve"]


def resolve(rules: SiteRules, own: Mapping[str, OwnRules] | None) -> tuple[SiteRules, Numbers]:
    """Return the rules under the shipped jurisdiction they rest on, and the workplace's numbers in place of its own."""
    mine = (own or {}).get(rules.jurisdiction)
    if mine is None:
        return rules, {}
    return replace(rules, jurisdiction=mine.based_on), numbers_of(mine)


def numbers_of(own: OwnRules) -> Numbers:
    """Return the numbers of a workplace's own jurisdiction by rule; raises Refusal where they change nothing known."""
    check_own(own)
    return {f"{own.based_on}.{file}": parameters for file, parameters in own.files.items()}


def check_own(own: OwnRules) -> None:
    """Raise Refusal, naming the file and the key, where `own` rests on or changes what no shipped rule has."""
    if own.based_on not in JURISDICTIONS:
        raise Refusal(
            f"rules/{own.name}: it rests on the jurisdiction {own.based_on!r}, which is not known; write "
            f"jurisdiction.toml with based_on = one of {', '.join(sorted(JURISDICTIONS))}."
        )
    package = f"evenhand.law.{own.based_on}"
    shipped = {
        file.name.removesuffix(".toml") for file in resources.files(package).iterdir() if file.name.endswith(".toml")
    }
    for name, parameters in own.files.items():
        file = f"rules/{own.name}/{name}.toml"
        if name not in shipped:
            raise Refusal(
                f"{file}: {own.based_on} has no rule {name} with numbers; its files are "
                f"{', '.join(f'{one}.toml' for one in sorted(shipped))}."
            )
        known = read_parameters(package, name)
        for key, parameter in parameters.items():
            if key not in known:
                raise Refusal(f"{file}: the key {key} is not known; the keys are {', '.join(known)}.")
            if parameter.unit != known[key].unit:
                raise Refusal(
                    f"{file}: {key} has unit = {parameter.unit!r}; the rule counts in {known[key].unit!r}: convert it."
                )
