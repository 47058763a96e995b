"""When a hand must be gone and until when time records must stay: two clocks that run on one person.

Destroy by: on doubt the earlier day. Keep at least until: on doubt the later day. A calculation aid, not legal advice.
"""

from evenhand.records.retention.due import BINDING, DUE_DATES, EVENTS, binding_dates, due_dates
from evenhand.records.retention.lapses import Lapse, first_disposal_day
from evenhand.records.retention.law import Law, Term
from evenhand.records.retention.laws import LAWS, laws_of
from evenhand.records.retention.limits import answer_by, last_day_to_sue, notify_by
from evenhand.records.retention.purposes import ENDINGS, PURPOSES, purposes_ended
from evenhand.records.retention.removals import HELD_HANDS, PLACES, REMOVALS, events_of, removals

__all__ = [
    "BINDING",
    "DUE_DATES",
    "ENDINGS",
    "EVENTS",
    "HELD_HANDS",
    "LAWS",
    "PLACES",
    "PURPOSES",
    "REMOVALS",
    "Lapse",
    "Law",
    "Term",
    "answer_by",
    "binding_dates",
    "due_dates",
    "events_of",
    "first_disposal_day",
    "last_day_to_sue",
    "laws_of",
    "notify_by",
    "purposes_ended",
    "removals",
]
