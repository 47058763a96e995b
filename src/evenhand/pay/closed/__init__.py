"""What payroll was told against what is owed now: lines that add up over every file in force."""

from evenhand.pay.closed.ledger import closed_changes, in_lines, net, taken_from, told_in
from evenhand.pay.closed.owed import owed_lines
from evenhand.pay.closed.printed import ToldBefore, told_before
from evenhand.pay.closed.rows import less_told, owed_of_lines

__all__ = [
    "ToldBefore",
    "closed_changes",
    "in_lines",
    "less_told",
    "net",
    "owed_lines",
    "owed_of_lines",
    "taken_from",
    "told_before",
    "told_in",
]
