"""Ask people to agree to a version of the policy: who is still to be asked, and the sheets to print."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenhand.cli.asked import as_json, as_of, now_or, paper_asked, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms import cautions
from evenhand.terms.disk_faults import not_written
from evenhand.terms.languages import told
from evenhand.terms.records import Refusal

if TYPE_CHECKING:
    from evenhand.jobs.snapshot import Snapshot

__all__ = ["campaign", "consents_asked", "sheets"]


@click.command()
@click.option("--policy", metavar="N", type=int, help="The version; the last one added where it is not given.")
@click.option("--site", metavar="SITE", help="Only people of this site.")
@as_of
@as_json
@click.pass_context
def campaign(ctx: click.Context, policy: int | None, site: str | None, as_of: str | None, as_json: bool) -> None:
    """Show who is still to be asked to agree to a version of the policy, and by when."""
    snapshot, today = consents_asked(ctx, as_of)
    found = _campaign(snapshot, policy, today)
    rows = found.rows if site is None else found.rows.filter(found.rows["site"].fill_null("") == site)
    if as_json:
        print_json(rows)
        return
    by = told(", by {day}", day=found.version.renew_by) if found.version.renew_by else ""
    say("{called}, in force from {day}{by}.", called=found.version.called, day=found.version.in_force_from, by=by)
    print_table(
        ("Site", "Asked", "Agreed", "Said no", "Still to ask"),
        ((one.site or told("no site"), one.everybody, one.agreed, one.said_no, one.to_ask) for one in found.sites()),
        right=(1, 2, 3, 4),
    )
    print_table(
        ("Still to ask", "Name", "Site", "Department", "Shift", "Code"),
        (
            tuple(row[name] for name in ("person", "name", "site", "department", "shift", "code"))
            for row in rows.iter_rows(named=True)
            if row["answer"] == "to ask"
        ),
    )


@click.command()
@click.option("--policy", metavar="N", type=int, help="The version; the last one added where it is not given.")
@click.option("--person", "people", metavar="PERSON", multiple=True, help="Only this person; may be given again.")
@click.option("--site", metavar="SITE", help="Only people of this site.")
@click.option("--everybody", is_flag=True, help="Also for those who have answered.")
@click.option("--language", metavar="LANGUAGE", default="", help="In this language, where the policy speaks it.")
@paper_asked
@click.option("--out", required=True, type=click.Path(path_type=Path, dir_okay=False), help="The PDF to write.")
@as_of
@as_json
@click.pass_context
def sheets(ctx: click.Context, /, out: Path, as_of: str | None, as_json: bool, **given: Any) -> None:
    """Write the sheets to be read and signed as one PDF, by site, department and shift."""
    from evenhand.jobs.consent_sheets import print_consent_sheets, sheets_asked
    from evenhand.store.owner_only import write_file

    snapshot, today = consents_asked(ctx, as_of)
    found = _campaign(snapshot, given["policy"], today)
    people = [str(snapshot.find_person(one)["person"]) for one in given["people"]]
    rows = sheets_asked(found, people=people, site=given["site"], everybody=given["everybody"])
    pdf = print_consent_sheets(snapshot, found, rows, language=given["language"], paper=given["paper"] or "")
    try:
        write_file(out, pdf)
    except OSError as fault:
        raise not_written(out, fault) from fault
    if as_json:
        print_json(rows)
        return
    say(
        "{out}: {sheets:# sheet|# sheets} of {called}. Key the signed ones back with `evenhand consent record "
        "CODE...`. {caution}",
        out=out,
        sheets=rows.height,
        called=found.version.called,
        caution=told(cautions.CALCULATION),
    )


def consents_asked(ctx: click.Context, as_of: str | None) -> tuple[Snapshot, Any]:
    """Return the workspace as it is now, and the day there."""
    from evenhand.jobs.consent_policies import consents_now
    from evenhand.terms.zones import civil_date

    now = now_or(as_of)
    snapshot = consents_now(workspace_asked(ctx), now)
    return snapshot, civil_date(snapshot.zone, int(now.timestamp()))


def _campaign(snapshot: Snapshot, number: int | None, today: Any) -> Any:
    from evenhand.jobs.campaign import campaign_of
    from evenhand.jobs.consent_versions import policy_of, policy_versions

    versions = policy_versions(snapshot)
    if not versions:
        raise Refusal(told("no policy was added yet; `evenhand consent policy add FILE --from DATE` adds one."))
    return campaign_of(snapshot, versions[-1] if number is None else policy_of(snapshot, number), today)
