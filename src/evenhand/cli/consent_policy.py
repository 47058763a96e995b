"""Add versions of the policy on hands, list them, and show one."""

from __future__ import annotations

from pathlib import Path

import click

from evenhand.cli.asked import as_json, as_of, author, confirm_or_leave, day_asked, now_or, text_of, workspace_asked
from evenhand.cli.printing import print_json, print_table, say
from evenhand.terms import cautions
from evenhand.terms.languages import told
from evenhand.terms.words import as_day

__all__ = ["policies", "policy"]


@click.command()
@as_of
@as_json
@click.pass_context
def policies(ctx: click.Context, as_of: str | None, as_json: bool) -> None:
    """List the versions of the policy, the last added first."""
    from evenhand.jobs.consent_listing import list_policies
    from evenhand.jobs.consent_policies import consents_now
    from evenhand.terms.zones import civil_date

    now = now_or(as_of)
    snapshot = consents_now(workspace_asked(ctx), now)
    listed = list_policies(snapshot, civil_date(snapshot.zone, int(now.timestamp())))
    if as_json:
        print_json(listed)
        return
    if not listed:
        say("No policy was added yet; `evenhand consent policy example` prints one to begin with.")
        return
    print_table(
        ("No.", "Version", "From", "Earlier releases count until", "Languages", "Added by", "SHA-256"),
        (
            (
                one.policy,
                told("{policy} (in force)", policy=one.called) if one.in_force else one.called,
                as_day(one.in_force_from),
                told("{day}", day=one.renew_by) if one.renew_by else told("they go on"),
                ", ".join(one.languages),
                one.author,
                one.digest[:16],
            )
            for one in listed
        ),
        right=(0,),
    )


@click.group()
def policy() -> None:
    """Add a version of the policy, show one, print an example."""


@policy.command()
def example() -> None:
    """Print an example of a policy file: counsel must approve the text before anybody signs it."""
    from evenhand.jobs.consent_policies import example_policy

    click.echo(example_policy())


@policy.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--from", "begins", required=True, metavar="DATE", help="The first day on which it is in force.")
@click.option("--renew-by", metavar="DATE", help="The last day on which releases of earlier versions count.")
@click.option("--earlier-go-on", is_flag=True, help="Releases of earlier versions go on counting.")
@author
@click.option("--yes", is_flag=True, help="Add it without asking.")
@as_of
@as_json
@click.pass_context
def add(
    ctx: click.Context,
    file: Path,
    begins: str,
    renew_by: str | None,
    earlier_go_on: bool,
    author: str | None,
    yes: bool,
    as_of: str | None,
    as_json: bool,
) -> None:
    """Add FILE, which `consent policy example` shows the form of, as a version of the policy that is never changed."""
    from evenhand.jobs.consent_policies import PolicyAsked, add_policy, consents_now, preview_policy

    day = day_asked(begins, "--from")
    assert day is not None  # the option is required
    workspace, now = workspace_asked(ctx), now_or(as_of)
    asked = PolicyAsked(
        text_of(file, "a policy"), file.name, day, author or "", day_asked(renew_by, "--renew-by"), earlier_go_on
    )
    seen = preview_policy(consents_now(workspace, now), asked)
    if not as_json:
        say(
            "{called}, in force from {day}, in {languages:commas}.",
            called=seen.called,
            day=seen.in_force_from,
            languages=list(seen.languages),
        )
        say("SHA-256 {digest}", digest=seen.digest)
        if seen.asked_again and seen.renew_by:
            say(
                "{people:# person is|# people are} asked to agree again by {day}; then earlier releases no longer "
                "count.",
                people=seen.asked_again,
                day=seen.renew_by,
            )
        say("Has counsel approved this text? {caution}", caution=told(cautions.CALCULATION))
    if seen.policy is None and not yes:
        confirm_or_leave(ctx, "Add it?")
    made = add_policy(workspace, asked, as_of=now)
    if as_json:
        print_json(seen)
        return
    there = told("is there already") if seen.policy is not None else told("added")
    say(
        "Policy {policy} {there}: {called}. `evenhand consent sheets` prints what people sign.",
        policy=made.policy,
        there=there,
        called=made.called,
    )


@policy.command()
@click.argument("number", metavar="N", type=int)
@as_of
@click.pass_context
def show(ctx: click.Context, number: int, as_of: str | None) -> None:
    """Print the file of version N as it was added; its SHA-256 is the digest that `consent policies` lists."""
    from evenhand.jobs.consent_policies import consents_now
    from evenhand.jobs.consent_versions import policy_of

    found = policy_of(consents_now(workspace_asked(ctx), now_or(as_of)), number)
    click.echo(found.text)
