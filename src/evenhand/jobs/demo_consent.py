"""Let the demonstration's workplace have a policy, a change of it, and people who have answered or have yet to."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from evenhand.jobs.campaign import campaign_of
from evenhand.jobs.consent import asked_by_code, record_consents
from evenhand.jobs.consent_foreseen import ConsentAsked
from evenhand.jobs.consent_policies import PolicyAsked, add_policy, consents_now, example_policy
from evenhand.jobs.workspace import Workspace

__all__ = ["ask_for_releases"]

AUTHOR = "demo"
FIRST, SECOND, RENEW_BY = date(2025, 8, 1), date(2026, 11, 2), date(2026, 12, 11)
ASKED_ON = date(2026, 11, 5)
WRITTEN = datetime(2026, 11, 6, 21, 0, tzinfo=UTC)
FORMS = "forms = []"
PURPOSE = "so that your hours are recorded as yours."
MORE = "so that your hours are recorded as yours; and to see when a reader no longer knows your hand."
AGREED, REFUSED, OTHER_WAY = 3, 2, 1
"""Three in five have agreed again; so many of the others said no, and chose another way."""


def ask_for_releases(workspace: Workspace) -> None:
    """Add the version that the signed forms are of, and one that people are asked to agree to; key sheets back."""
    text = example_policy()
    earlier = text.replace(FORMS, 'forms = ["H-1", "H-2"]', 1)
    add_policy(workspace, PolicyAsked(earlier, "hands.toml", FIRST, AUTHOR, go_on=True), as_of=WRITTEN)
    changed = PolicyAsked(text.replace(PURPOSE, MORE, 1), "hands.toml", SECOND, AUTHOR, RENEW_BY)
    version = add_policy(workspace, changed, as_of=WRITTEN)
    snapshot = consents_now(workspace, WRITTEN)
    waiting = campaign_of(snapshot, version, ASKED_ON).to_ask.filter(kind="due").sort("code")
    codes = [code for place, code in enumerate(waiting["code"]) if place % 5 < AGREED]
    others = [who for place, who in enumerate(waiting["person"]) if place % 5 >= AGREED]
    asked = asked_by_code(snapshot, codes, "agree", AUTHOR, ASKED_ON)
    asked += [ConsentAsked("refuse", who, AUTHOR, "paper", said_on=ASKED_ON) for who in others[:REFUSED]]
    day = ASKED_ON + timedelta(days=1)
    way = others[REFUSED : REFUSED + OTHER_WAY]
    asked += [ConsentAsked("other_way", who, AUTHOR, "desk", said_on=day) for who in way]
    record_consents(workspace, snapshot, asked, as_of=WRITTEN)
