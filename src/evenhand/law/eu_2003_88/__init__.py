"""European Union: Directive 2003/88/EC on working time, whose limits are checked and whose pay is national.

Source: Directive 2003/88/EC (second hand). Time worked is recorded and paid as elapsed, in one class; what is overtime,
and how long a break is, national law and agreements say. The directive counts in periods of seven days; where they
begin is a setting of the site.
"""

from __future__ import annotations

from evenhand.law.cutting import Workweek
from evenhand.law.eu_2003_88.breaches import LIMITS
from evenhand.law.eu_2003_88.pay import PAY_LAW
from evenhand.law.jurisdiction import Jurisdiction
from evenhand.law.recorded import call_back, grace, pairing, repeats
from evenhand.terms.languages import sentence
from evenhand.terms.records import Citation

__all__ = ["JURISDICTION"]

JURISDICTION = Jurisdiction(
    name="eu_2003_88",
    title=sentence("European Union"),
    sources="Directive 2003/88/EC",
    rules=(
        repeats.RULE,
        pairing.RULE,
        grace.RULE,
        Workweek("eu_2003_88.workweek", (Citation("Directive 2003/88/EC, art. 2"),)),
        call_back.RULE,
    ),
    pay=PAY_LAW,
    limits=LIMITS,
)
