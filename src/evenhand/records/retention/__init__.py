"""When a hand must be gone and until when time records must stay: two clocks that run on one person.

Destroy by: on doubt the earlier day. Keep at least until: on doubt the later day. A calculation aid, not legal advice.
"""

from evenhand.records.retention.due import BINDING, DUE_DATES, EVENTS, binding_dates, due_dates
from evenhand.records.retention.lapses import first_disposal_day
from evenhand.records.retention.laws import LAWS, Law, Term, laws_of
from evenhand.records.retention.limits import answer_by, last_day_to_sue, notify_by

__all__ = [
    "BINDING",
    "DUE_DATES",
    "EVENTS",
    "LAWS",
    "Law",
    "Term",
    "answer_by",
    "binding_dates",
    "due_dates",
    "first_disposal_day",
    "last_day_to_sue",
    "laws_of",
    "notify_by",
]
