"""Consent: policy versions, the history of what a person said, how they stand, and what must come first."""

from evenhand.records.consent.codes import code_of, read_code
from evenhand.records.consent.history import history_of
from evenhand.records.consent.laws import CONSENT_LAWS, ConsentLaw, laws_on
from evenhand.records.consent.order import early_enrolments, precedes
from evenhand.records.consent.policy import ELEMENTS, PolicyFile, PolicyWords, digest_of, read_policy
from evenhand.records.consent.signature import is_name_of
from evenhand.records.consent.states import Version, in_force, states_of

__all__ = [
    "CONSENT_LAWS",
    "ELEMENTS",
    "ConsentLaw",
    "PolicyFile",
    "PolicyWords",
    "Version",
    "code_of",
    "digest_of",
    "early_enrolments",
    "history_of",
    "in_force",
    "is_name_of",
    "laws_on",
    "precedes",
    "read_code",
    "read_policy",
    "states_of",
]
