"""Law: punches of whole people become paid seconds in one class each, with the reasons.

`compute_hours` takes and gives frames, for one person as for everybody; `find_failing_weeks` checks its account.
"""

from __future__ import annotations

from evenhand.law.accounting import find_failing_weeks, say_failing
from evenhand.law.dated import compute_hours
from evenhand.law.decided_premiums import decide_premiums, standing_decisions
from evenhand.law.hours import PARTS_FOR_ALL, Hours, load_passes
from evenhand.law.in_force import (
    NumberInForce,
    RuleInForce,
    RulesInForce,
    jurisdiction_titles,
    number_known,
    rules_in_force,
)
from evenhand.law.jurisdictions import find_breaches, limits_working_time, pay_laws
from evenhand.law.overlapping import WORKWEEK_MOVED
from evenhand.law.proposals import link_strays, propose_punches

__all__ = [
    "PARTS_FOR_ALL",
    "WORKWEEK_MOVED",
    "Hours",
    "NumberInForce",
    "RuleInForce",
    "RulesInForce",
    "compute_hours",
    "decide_premiums",
    "find_breaches",
    "find_failing_weeks",
    "jurisdiction_titles",
    "limits_working_time",
    "link_strays",
    "load_passes",
    "number_known",
    "pay_laws",
    "propose_punches",
    "rules_in_force",
    "say_failing",
    "standing_decisions",
]
