"""A workspace's settings file: TOML in, Settings out, and back."""

from __future__ import annotations

import tomllib
from pathlib import Path

from evenhand.store.settings_part import Part
from evenhand.store.settings_rules import POLICY_KEYS, read_policy, read_site
from evenhand.store.settings_text import write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import PayPeriod, Settings

__all__ = ["parse_settings", "read_settings", "read_settings_text", "write_settings"]


def read_settings(path: Path) -> Settings:
    """Return the settings in the file at `path`; raises Refusal as `parse_settings` does."""
    return parse_settings(read_settings_text(path), path)


def read_settings_text(path: Path) -> str:
    """Return what stands in the file at `path`; raises Refusal where it cannot be read as text."""
    try:
        return path.read_bytes().decode("utf-8-sig")
    except OSError as fault:
        raise Refusal(f"{path} cannot be read ({fault.strerror}); put back a backup of it.") from fault
    except UnicodeDecodeError as fault:
        raise Refusal(f"{path} is not text in UTF-8 (byte {fault.start}); save it as UTF-8.") from fault


def parse_settings(text: str, path: Path) -> Settings:
    """Return the settings that the text of the file at `path` says.

    Raises Refusal, naming the key, what was seen and what is expected, at the first thing that is not understood.
    """
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise Refusal(f"{path} is not valid TOML: {fault}; correct that place.") from fault
    top = Part(path, "", content, ("workplace", "pay_period", "policy", "site", "handoff"))
    workplace = top.part("workplace", ("name", "zone", "store"))
    handoff = top.part("handoff", ("columns",))
    sites = top.part("site", top.content.get("site", {}))
    columns = handoff.part("columns", handoff.content.get("columns", {}))
    return Settings(
        workplace=workplace.text("name"),
        period=_period(top.part("pay_period", ("anchor", "weeks", "deadline_hours"))),
        sites={name: read_site(name, sites) for name in sites.content},
        policy=read_policy(top.part("policy", POLICY_KEYS)),
        handoff_columns=tuple((header, columns.text(header)) for header in columns.content),
        zone=workplace.zone("zone") if "zone" in workplace else "",
        store=workplace.text("store") if "store" in workplace else "",
    )


def _period(part: Part) -> PayPeriod:
    weeks = part.value("weeks", "a whole number of weeks, 1 or more", _is_positive) if "weeks" in part else 1
    deadline = part.seconds("deadline_hours", 3600) if "deadline_hours" in part else PayPeriod.deadline_s
    return PayPeriod(part.day("anchor"), weeks, deadline)


def _is_positive(seen: object) -> bool:
    return isinstance(seen, int) and not isinstance(seen, bool) and seen > 0
