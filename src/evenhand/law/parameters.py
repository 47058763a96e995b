"""The numbers that ship with the rules, and the workplace's own in their place."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import resources

from evenhand.terms.parameters import Parameter, parse_parameters

__all__ = ["read_parameters"]


@cache
def read_parameters(package: str, name: str) -> Mapping[str, Parameter]:
    """Return the parameters of the rule `name`, from `<name>.toml` inside `package`; raises Refusal on a bad file."""
    text = resources.files(package).joinpath(f"{name}.toml").read_text(encoding="utf-8")
    return parse_parameters(text, f"{package.rpartition('.')[2]}/{name}.toml")
