"""Every recorded minute is paid: punches are not rounded, and nothing is deducted without punches.

Source: 84 Cal.App.5th 638 (2022), which wants every captured minute paid; review was granted (S277518) and its outcome
is not known here, so rounding that takes time is refused until counsel says otherwise. Meal punches may never be
rounded (11 Cal.5th 58). The federal rule on trifles was not adopted (5 Cal.5th 829, 2018). Meal periods have to be
recorded (wage orders, section 7(A)(3), from memory), so an automatic deduction is refused as well.
"""

from __future__ import annotations

from evenhand.law.jurisdiction import Pass
from evenhand.law.site import Site
from evenhand.law.spans import Spans
from evenhand.terms.languages import told
from evenhand.terms.records import Citation, Refusal

__all__ = ["RULE"]

NAME = "california.no_rounding"
CITES = (Citation("84 Cal.App.5th 638 (2022)"), Citation("11 Cal.5th 58 (2021)"), Citation("5 Cal.5th 829 (2018)"))


def apply(spans: Spans, site: Site) -> Spans:
    """Return the spans as they are; raises Refusal for a setting that would pay less than was recorded."""
    policy = site.policy
    for setting, is_set, source in (
        ("rounding_minutes", site.rules.rounding_s > 0, CITES[0]),
        ("grace that takes time (start_early_minutes, end_late_minutes)", policy.grace.takes_time, CITES[0]),
        ("trifle_seconds", policy.trifle_s > 0, CITES[2]),
        ("automatic_meal", policy.automatic_meal is not None, CITES[1]),
    ):
        if is_set:
            raise Refusal(
                told(
                    "{named}: California pays every recorded minute ({where}), so {setting} cannot hold there; "
                    "take it out of the settings, or give the California site a workspace of its own.",
                    named=site.rules.named,
                    where=source.where,
                    setting=setting,
                )
            )
    return spans


RULE = Pass(NAME, CITES, "reads", apply)
