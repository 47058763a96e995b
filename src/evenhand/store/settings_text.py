"""Write a workspace's settings file, with a word of explanation beside each key."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from evenhand.store.replacing import replace_file
from evenhand.store.settings_consent import consent_lines
from evenhand.store.settings_payroll import payroll_lines
from evenhand.terms.settings import WEEKDAYS, Grace, Policy, Retention, Settings, SiteRules
from evenhand.terms.words import as_toml

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
    yield f"name = {as_toml(settings.workplace)}"
    yield f"{'' if settings.zone else '# '}zone = {as_toml(settings.zone or 'America/Chicago')}  " \
          "# where neither a site below nor its readers say"  # fmt: skip
    if settings.language:
        yield f"language = {as_toml(settings.language)}  # in which the desk's pages speak to whoever chose none"
    if settings.paper:
        yield f"paper = {as_toml(settings.paper)}  # letter or a4: what is printed is set on it"
    if settings.store:
        yield f"store = {as_toml(settings.store)}  # the team's database, in place of evenhand.sqlite"
    if settings.is_invented:
        yield "invented = true  # nobody here is real, so that what is done may bear any time: --as-of writes too"
    yield ""
    yield "[pay_period]"
    yield f"anchor = {period.anchor.isoformat()}  # first day of any one pay period"
    yield f"weeks = {period.weeks}  # workweeks in a pay period"
    yield f"deadline_hours = {_in(period.deadline_s, 3600)}  # payroll wants the file this long after the end"
    yield ""
    yield "[policy]"
    yield f"repeat_seconds = {policy.repeat_gap_s}  # of presentations closer together the later are repeats"
    yield f"longest_span_hours = {_in(policy.longest_span_s, 3600)}  # in for longer: a punch is missing"
    yield f"long_span_hours = {_in(policy.long_span_s, 3600)}  # in for longer: paid as punched, and asked about"
    yield f"shift_gap_hours = {_in(policy.shift_gap_s, 3600)}  # out for longer: the shift has ended"
    yield f"meal_minutes = {_in(policy.meal_s, 60)}  # a punched gap this long or longer is an unpaid meal"
    yield from _beyond_defaults(policy)
    if settings.intake.folder:
        yield ""
        yield "[intake]  # a folder watched for files to take"
        yield f"folder = {as_toml(settings.intake.folder)}"
        yield f"quiet_seconds = {settings.intake.quiet_s}  # a file is looked at once it has not changed for so long"
        yield f'afterwards = "{"move" if settings.intake.is_moved else "leave"}"  # move to taken/, or leave'
    yield from consent_lines(settings.consent)
    if settings.authors:
        yield ""
        yield "[authors]  # who decides under which name, where the name alone does not tell"
        for name, person in settings.authors.items():
            yield f"{as_toml(name)} = {as_toml(person)}"
    if settings.retention != Retention():
        yield ""
        yield "[retention]  # how long records stay"
        if settings.retention.place:
            yield f"place = {as_toml(settings.retention.place)}  # whose laws, where a site names none (ISO 3166)"
        if settings.retention.keep_years:
            yield f"keep_years = {settings.retention.keep_years}  # time records stay at least so long"
        yield f"notice_days = {settings.retention.notice_days}  # what is due within so long is asked about"
    for site in settings.sites.values():
        yield from _site(site)
    if settings.late_changes != Settings.late_changes:
        yield ""
        yield "[handoff]"
        yield f'late_changes = "{settings.late_changes}"  # once payroll wanted the file: adjust, or replace it'
    if (settings.approval_demanded, settings.answer_days) != (Settings.approval_demanded, Settings.answer_days):
        yield ""
        yield "[signoff]"
        demanded = "demanded" if settings.approval_demanded else "told"
        yield f'approval = "{demanded}"  # of a supervisor: told in the note, or demanded before a period is handed off'
        yield f"answer_days = {settings.answer_days}  # a dispute is answered in so many days, where no law says"
    if settings.handoff_columns:
        yield ""
        yield "[handoff.columns]  # header in the file for payroll = what stands under it"
        for header, field in settings.handoff_columns:
            yield f"{as_toml(header)} = {as_toml(field)}"
    for payroll in settings.payrolls:
        yield from payroll_lines(payroll)


def _beyond_defaults(policy: Policy) -> Iterator[str]:
    """Write what a policy sets only where a workplace wants it."""
    if policy.trifle_s:
        yield f"trifle_seconds = {policy.trifle_s}  # a shift shorter than this is not paid (29 CFR 785.47)"
    if policy.call_back_s:
        yield f"call_back_hours = {_in(policy.call_back_s, 3600)}  # a call-back is paid for at least this long"
    grace = policy.grace
    if grace != Grace():
        yield ""
        yield "[policy.grace]  # a punch this near a scheduled start or end counts as it"
        for name in ("start_early", "start_late", "end_early", "end_late"):
            yield f"{name}_minutes = {_in(getattr(grace, f'{name}_s'), 60)}"
    if meal := policy.automatic_meal:
        yield ""
        yield "[policy.automatic_meal]  # deducted without punches, unless the punches say otherwise"
        yield f"minutes = {_in(meal.length_s, 60)}"
        yield f"after_hours = {_in(meal.after_s, 3600)}  # only in shifts longer than this"
        yield f"at_hours = {_in(meal.at_s, 3600)}  # this long after the shift begins"
    for one in policy.differentials:
        days = [WEEKDAYS[day] for day in one.days] + ["holidays"] * one.on_holidays
        yield ""
        yield "[[policy.differential]]"
        yield f"name = {as_toml(one.name)}"
        yield f"days = {as_toml(days)}"
        yield f"starts = {_time(one.starts_s)}"
        if one.ends_s != 86_400:
            yield f"ends = {_time(one.ends_s)}"
        if one.an_hour:
            yield f"an_hour = {one.an_hour}"
        if one.multiple != 1:
            yield f"multiple = {one.multiple}"


def _site(site: SiteRules) -> Iterator[str]:
    yield ""
    yield f"[site.{as_toml(site.site)}]"
    yield from _dated(site, SiteRules(site.site, ""))
    before = site
    for change in site.changes:
        yield ""
        yield f"[[site.{as_toml(site.site)}.from]]"
        yield f"date = {change.since}"
        yield from _dated(change, before)
        before = change


def _dated(site: SiteRules, before: SiteRules) -> Iterator[str]:
    """Write the keys of a site, or those in which later rules differ from the ones before."""
    first = not before.zone
    if first or site.zone != before.zone:
        yield f"zone = {as_toml(site.zone)}"
    if first or site.jurisdiction != before.jurisdiction:
        yield f"jurisdiction = {as_toml(site.jurisdiction)}"
    if first or (site.workweek_day, site.workweek_s) != (before.workweek_day, before.workweek_s):
        yield f'workweek_starts = "{WEEKDAYS[site.workweek_day]} {_time(site.workweek_s)[1:]}'
    if first or site.rounding_s != before.rounding_s:
        yield f"rounding_minutes = {site.rounding_s // 60}  # 0, 5, 6 or 15"
    if site.alternative_day_s != before.alternative_day_s:
        yield f"alternative_day_hours = {_in(site.alternative_day_s, 3600)}"
    if site.alternative_days != before.alternative_days:
        yield f"alternative_days = {as_toml(tuple(WEEKDAYS[day] for day in site.alternative_days))}"
    if site.health_care != before.health_care:
        yield f"health_care_schedule = {as_toml(site.health_care)}"
    for name in ("first_meal_waived", "second_meal_waived"):
        if getattr(site, name) != getattr(before, name):
            yield f"{name} = {as_toml(getattr(site, name))}"
    if site.fortnight is not None and site.fortnight != before.fortnight:
        yield f"fortnight_begins = {site.fortnight}"
    if site.public_safety != before.public_safety:
        yield f"public_safety = {as_toml(site.public_safety)}"
    if site.work_period_days != before.work_period_days:
        yield f"work_period_days = {site.work_period_days}"
    if site.work_period is not None and site.work_period != before.work_period:
        yield f"work_period_begins = {site.work_period}"
    if site.holidays != before.holidays:
        yield f"holidays = {as_toml(site.holidays)}"
    if site.place != before.place:
        yield f"place = {as_toml(site.place)}"


def _time(seconds: int) -> str:
    hours, minutes = divmod(seconds // 60, 60)
    return f'"{hours:02d}:{minutes:02d}"'


def _in(seconds: int, unit: int) -> str:
    return str(seconds // unit) if seconds % unit == 0 else repr(seconds / unit)
