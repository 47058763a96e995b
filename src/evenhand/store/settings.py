"""A workspace's settings file: TOML in, Settings out, and back."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evenhand.store.sections import Section, read_text, section_of
from evenhand.store.settings_consent import read_consent
from evenhand.store.settings_payroll import read_payrolls
from evenhand.store.settings_rules import POLICY_KEYS, read_place, read_policy, read_site
from evenhand.store.settings_text import write_settings
from evenhand.terms.languages import LANGUAGES, in_a_row, sentence, told
from evenhand.terms.papers import PAPERS
from evenhand.terms.settings import Intake, PayPeriod, Retention, Settings
from evenhand.terms.zones import check_reckoned

__all__ = ["parse_settings", "read_settings", "write_settings"]

TABLES = (
    "workplace", "pay_period", "policy", "site", "handoff", "payroll", "intake", "consent", "signoff", "authors",
    "retention",
)  # fmt: skip
DEADLINE_HOURS = 53 * 7 * 24  # as long as the longest pay period


def read_settings(path: Path) -> Settings:
    """Return the settings in the file at `path`; raises Refusal as `parse_settings` does."""
    return parse_settings(read_text(path), path)


def parse_settings(text: str, path: Path) -> Settings:
    """Return the settings that the text of the file at `path` says.

    Raises Refusal, naming the key, what was seen and what is expected, at the first thing that is not understood.
    """
    top = section_of(text, path, TABLES)
    workplace = top.section("workplace", ("name", "zone", "language", "paper", "store", "invented"))
    handoff = top.section("handoff", ("columns", "late_changes"))
    signoff = top.section("signoff", ("approval", "answer_days"))
    sites = top.section("site", top.content.get("site", {}))
    payrolls = read_payrolls(top.section("payroll", top.content.get("payroll", {})))
    if payrolls and "columns" in handoff:
        handoff.refuse(
            "columns", told("it gone, since [payroll] says what payroll's files hold"), seen=sentence("a table")
        )
    columns = handoff.section("columns", handoff.content.get("columns", {}))
    return Settings(
        workplace=workplace.text("name"),
        period=_period(top.section("pay_period", ("anchor", "weeks", "deadline_hours"))),
        sites={name: read_site(name, sites) for name in sites.content},
        policy=read_policy(top.section("policy", POLICY_KEYS)),
        handoff_columns=tuple((header, columns.text(header)) for header in columns.content),
        late_changes=_late_changes(handoff),
        authors=_authors(top.section("authors", top.content.get("authors", {}))),
        consent=read_consent(top.section("consent", ("required", "policy", "site"))),
        zone=workplace.zone("zone") if "zone" in workplace else "",
        store=workplace.text("store") if "store" in workplace else "",
        payrolls=payrolls,
        approval_demanded=_approval(signoff),
        answer_days=_answer_days(signoff),
        intake=_intake(top.section("intake", ("folder", "quiet_seconds", "afterwards"))),
        retention=_retention(top.section("retention", ("place", "keep_years", "notice_days"))),
        is_invented="invented" in workplace and _is_invented(workplace),
        language=_one_of(workplace, "language", LANGUAGES) if "language" in workplace else "",
        paper=_one_of(workplace, "paper", PAPERS) if "paper" in workplace else "",
    )


def _period(section: Section) -> PayPeriod:
    weeks = (
        section.value("weeks", told("a whole number of weeks, 1 or more and 53 at most"), _is_some_weeks)
        if "weeks" in section
        else 1
    )
    deadline = (
        section.seconds("deadline_hours", DEADLINE_HOURS) if "deadline_hours" in section else PayPeriod.deadline_s
    )
    return PayPeriod(check_reckoned(section.day("anchor")), weeks, deadline)


def _one_of(section: Section, key: str, words: Sequence[str]) -> str:
    expected = in_a_row("{one} or {other}", [f'"{one}"' for one in words])
    return str(section.value(key, expected, lambda seen: seen in words))


def _is_invented(section: Section) -> bool:
    return bool(section.value("invented", told("true or false"), lambda seen: isinstance(seen, bool)))


def _intake(section: Section) -> Intake:
    if not section.content:
        return Intake()
    afterwards = (
        section.value(
            "afterwards", in_a_row("{one} or {other}", ('"move"', '"leave"')), lambda seen: seen in ("move", "leave")
        )
        if "afterwards" in section
        else "move"
    )
    quiet = section.seconds("quiet_seconds", 3600, above_none=True) if "quiet_seconds" in section else Intake.quiet_s
    return Intake(section.text("folder"), quiet, afterwards == "move")


def _authors(section: Section) -> dict[str, str]:
    return {name: section.text(name) for name in section.content}


def _late_changes(section: Section) -> str:
    if "late_changes" not in section:
        return Settings.late_changes
    ways = ("adjust", "replace")
    return str(
        section.value(
            "late_changes", in_a_row("{one} or {other}", ('"adjust"', '"replace"')), lambda seen: seen in ways
        )
    )


def _approval(section: Section) -> bool:
    if "approval" not in section:
        return Settings.approval_demanded
    return bool(
        section.value(
            "approval",
            in_a_row("{one} or {other}", ('"told"', '"demanded"')),
            lambda seen: seen in ("told", "demanded"),
        )
        == "demanded"
    )


def _answer_days(section: Section) -> int:
    if "answer_days" not in section:
        return Settings.answer_days
    return int(section.value("answer_days", told("a whole number of days, 1 or more and 90 at most"), _is_some_days))


def _is_some_days(seen: object) -> bool:
    return isinstance(seen, int) and not isinstance(seen, bool) and 0 < seen <= 90


def _retention(section: Section) -> Retention:
    return Retention(
        place=read_place(section) if "place" in section else "",
        keep_years=section.value("keep_years", told("a whole number of years from 1 to 30"), _is_some_years)
        if "keep_years" in section
        else 0,
        notice_days=section.value("notice_days", told("a whole number of days from 0 to 366"), _is_notice)
        if "notice_days" in section
        else Retention.notice_days,
    )


def _is_some_years(seen: object) -> bool:
    return isinstance(seen, int) and not isinstance(seen, bool) and 0 < seen <= 30


def _is_notice(seen: object) -> bool:
    return isinstance(seen, int) and not isinstance(seen, bool) and 0 <= seen <= 366


def _is_some_weeks(seen: object) -> bool:
    return isinstance(seen, int) and not isinstance(seen, bool) and 0 < seen <= 53
