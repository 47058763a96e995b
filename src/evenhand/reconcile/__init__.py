"""Reconcile: roster, readers' enrolments and punches, held against each other."""

from evenhand.reconcile.attribute import Attribution, attribute, holders
from evenhand.reconcile.compare import compare
from evenhand.reconcile.edges import shifts_begin
from evenhand.reconcile.numbers_held import NumbersHeld, days_taken, numbers_held
from evenhand.reconcile.of_releases import with_releases
from evenhand.reconcile.presented import last_seen_of, presented_by
from evenhand.reconcile.reader_steps import reader_steps
from evenhand.reconcile.removal_steps import removal_steps
from evenhand.reconcile.roster import roster_on
from evenhand.reconcile.seen import count_seen
from evenhand.reconcile.standing import standings
from evenhand.reconcile.supervision import LEAVES_SOON, LOOKED_BACK, AuthorityTold, supervision, uncovered, untouched
from evenhand.reconcile.whole import Attendance, find_gaps
from evenhand.reconcile.withdrawals import punch_of, put_instead, roots, standing, undone, withdrawn_by

__all__ = [
    "LEAVES_SOON",
    "LOOKED_BACK",
    "Attendance",
    "Attribution",
    "AuthorityTold",
    "NumbersHeld",
    "attribute",
    "compare",
    "count_seen",
    "days_taken",
    "find_gaps",
    "holders",
    "last_seen_of",
    "numbers_held",
    "presented_by",
    "punch_of",
    "put_instead",
    "reader_steps",
    "removal_steps",
    "roots",
    "roster_on",
    "shifts_begin",
    "standing",
    "standings",
    "supervision",
    "uncovered",
    "undone",
    "untouched",
    "with_releases",
    "withdrawn_by",
]
