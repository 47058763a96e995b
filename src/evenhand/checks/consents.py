"""What the checks on consent share: the law's sentence, and who is here with a hand enrolled."""

from __future__ import annotations

import polars as pl

from evenhand.checks.facts import Facts
from evenhand.terms.columns import Frame
from evenhand.terms.languages import told
from evenhand.terms.workplace import not_left

__all__ = ["LAW", "enrolled_here"]

LAW = told(
    "Consent comes before enrolment: in Illinois 740 ILCS 14/15(b) (written release), in "
    "Texas Bus. & Com. Code 503.001(b); other places have laws of their own, and the law of "
    "the place decides"
)


def enrolled_here(facts: Facts) -> Frame:
    """Return whose hand is enrolled (CONSENT_STATES), of those whom the roster lists, at sites that want a release."""
    here = facts.people.filter(not_left(facts.today)).join(facts.gone_people, on="person", how="anti")
    enrolled = here.join(facts.enrolments, on="number", how="semi").select("person")
    states = facts.consent.filter("is_required").with_columns(pl.col("site").fill_null(""))
    return states.join(enrolled, on="person", how="semi").sort("person")
