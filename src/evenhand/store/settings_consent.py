"""The settings of consent: at which sites a release must be in force, and which policy is asked for there."""

from __future__ import annotations

from collections.abc import Iterator

from evenhand.store.sections import Section
from evenhand.terms.languages import told
from evenhand.terms.settings import ConsentRule, ConsentRules
from evenhand.terms.words import as_toml

__all__ = ["consent_lines", "read_consent"]

KEYS = ("required", "policy")


def read_consent(section: Section) -> ConsentRules:
    """Return what [consent] says; where it is silent a release is required."""
    sites = section.section("site", section.content.get("site", {}))
    usual = _rule(section, ConsentRule())
    return ConsentRules(usual, {name: _rule(sites.section(name, KEYS), usual) for name in sites.content})


def _rule(section: Section, otherwise: ConsentRule) -> ConsentRule:
    required = (
        bool(section.value("required", told("true or false"), lambda seen: isinstance(seen, bool)))
        if "required" in section
        else otherwise.is_required
    )
    return ConsentRule(required, section.text("policy") if "policy" in section else otherwise.policy)


def consent_lines(rules: ConsentRules) -> Iterator[str]:
    """Yield the lines of [consent]; none where everything is as usual."""
    if rules != ConsentRules():
        yield ""
        yield "[consent]  # who may be enrolled; local law decides"
        yield from _lines(rules.usual)
    for site, rule in rules.sites.items():
        yield ""
        yield f"[consent.site.{as_toml(site)}]"
        yield from _lines(rule)


def _lines(rule: ConsentRule) -> Iterator[str]:
    yield f"required = {as_toml(rule.is_required)}  # nobody is enrolled without a release in force"
    if rule.policy:
        yield f"policy = {as_toml(rule.policy)}"
