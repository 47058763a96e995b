"""Write a workspace's settings file, with a word of explanation beside each key."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from evenhand.store.replacing import replace_file
from evenhand.terms.settings import WEEKDAYS, Settings, SiteRules

__all__ = ["write_settings"]


def write_settings(path: Path, settings: Settings) -> None:
    """Write `settings` to `path` in one step, so that a reader sees the old file or the new one."""
    replace_file(path, ("\n".join(_lines(settings)) + "\n").encode())


def _lines(settings: Settings) -> Iterator[str]:
    period, policy = settings.period, settings.policy
    yield "# Settings of this workspace. Every key is explained in docs/workspace.md."
    yield "# They decide pay: local law, agreements and licensed counsel say what they must be."
    yield ""
    yield "[workplace]"
    yield f"name = {_quoted(settings.workplace)}"
    yield f"{'' if settings.zone else '# '}zone = {_quoted(settings.zone or 'America/Chicago')}  " \
          "# where neither a site below nor its readers say"  # fmt: skip
    if settings.store:
        yield f"store = {_quoted(settings.store)}  # the team's database, in place of evenhand.sqlite"
    yield ""
    yield "[pay_period]"
    yield f"anchor = {period.anchor.isoformat()}  # first day of any one pay period"
    yield f"weeks = {period.weeks}  # workweeks in a pay period"
    yield f"deadline_hours = {_in(period.deadline_s, 3600)}  # payroll wants the file this long after the end"
    yield ""
    yield "[policy]"
    yield f"double_seconds = {policy.double_s}  # presentations closer together are one act"
    yield f"longest_span_hours = {_in(policy.longest_span_s, 3600)}  # in for longer: a punch is missing"
    yield f"long_span_hours = {_in(policy.long_span_s, 3600)}  # in for longer: paid as punched, and asked about"
    yield f"shift_gap_hours = {_in(policy.shift_gap_s, 3600)}  # out for longer: the shift has ended"
    yield f"meal_minutes = {_in(policy.meal_s, 60)}  # a punched gap this long or longer is an unpaid meal"
    for site in settings.sites.values():
        yield from _site(site)
    if settings.handoff_columns:
        yield ""
        yield "[handoff.columns]  # header in the file for payroll = what stands under it"
        for header, field in settings.handoff_columns:
            yield f"{_quoted(header)} = {_quoted(field)}"


def _site(site: SiteRules) -> Iterator[str]:
    yield ""
    yield f"[site.{_quoted(site.site)}]"
    yield f"zone = {_quoted(site.zone)}"
    yield f"jurisdiction = {_quoted(site.jurisdiction)}"
    hours, minutes = divmod(site.workweek_s // 60, 60)
    yield f'workweek_starts = "{WEEKDAYS[site.workweek_day]} {hours:02d}:{minutes:02d}"'
    yield f"rounding_minutes = {site.rounding_s // 60}  # 0, 5, 6 or 15"


def _quoted(text: str) -> str:
    # A JSON string is a TOML basic string, save for DEL, which TOML wants escaped.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007F")


def _in(seconds: int, unit: int) -> str:
    return str(seconds // unit) if seconds % unit == 0 else repr(seconds / unit)
