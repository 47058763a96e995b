"""What the directive says of pay: nothing. National law and agreements decide it.

Source: Directive 2003/88/EC, art. 1 (second hand).
"""

from __future__ import annotations

from evenhand.terms.languages import sentence
from evenhand.terms.pay_law import PayLaw

__all__ = ["PAY_LAW"]


PAY_LAW = PayLaw(otherwise=sentence("national law and agreements"))
