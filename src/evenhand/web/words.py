"""Words as pages write them: those of `terms.words`, with a figure and its unit kept on one line."""

from __future__ import annotations

from collections.abc import Callable

from markupsafe import Markup

from evenhand.terms import said, words
from evenhand.terms.characters import escaped
from evenhand.terms.closing import change_in_short, changes_in_words, items_in_words
from evenhand.terms.correction_rules import reason_told
from evenhand.terms.languages import ENGLISH, NAMES, Sentence, Speech, sentence
from evenhand.terms.likeness.explain import SLIP_NAMES
from evenhand.terms.rules_told import cited
from evenhand.web.addresses import in_path

__all__ = ["FILTERS", "TURN_RESULTS", "clipped", "filters_in", "share_of"]

NO_BREAK = "\u00a0"
TURN_RESULTS = {
    "": sentence("waits"),
    "enrolled": sentence("enrolled"),
    "removed": sentence("taken off"),
    "try_again": sentence("to try again"),
    "stopped": sentence("stopped after five presentations"),
    "did_not_come": sentence("did not come"),
    "passed_over": sentence("passed over"),
    "not_done": sentence("not done"),
    "cannot": sentence("cannot be enrolled"),
    "undone": sentence("put back"),
}
"""What came of a turn of a round, by its result; '' for one that is still to come."""
CLIPPED = sentence("{begins}… ({count:,} characters)")


def clipped(text: str, most: int = 120, speech: Speech = ENGLISH) -> str:
    """Return a text up to so many characters, and how many it has where that is not all of it."""
    said = speech.written(text)
    if len(said) <= most:
        return said
    return speech(CLIPPED, begins=said[:most], count=len(said))


def _unbroken(written: Callable[..., str]) -> Callable[..., str]:
    return lambda *given: written(*given).replace(" ", NO_BREAK)


def share_of(part: float, whole: float) -> str:
    """Return a part of a whole in percent: in two figures below ten of a hundred, in whole ones above."""
    percent = 100 * part / whole
    return f"{percent:.2g} %" if percent < 9.95 else f"{percent:.0f} %"


FILTERS: dict[str, Callable[..., object]] = {
    "ago": words.ago,
    "clipped": clipped,
    "day": _unbroken(words.as_day),
    "decided": said.decision_in_words,
    "escaped": escaped,
    "hours": _unbroken(words.as_hours),
    "in_path": in_path,
    "change_in_short": change_in_short,
    "change_lines": changes_in_words,
    "item_lines": items_in_words,
    "figures": words.as_figures,
    "language_name": lambda code: NAMES.get(code, code),
    "long_day": words.as_long_day,
    "pay": _unbroken(words.as_pay),
    "premium": said.premium_in_words,
    "plural": _unbroken(words.counted),
    "reason": reason_told,
    "share_of": share_of,
    "short_day": _unbroken(words.as_short_day),
    "how_it_came": said.how_it_came,
    "some_saved": said.some_saved,
    "signed": _unbroken(words.as_change),
    "signed_figures": words.signed_figures,
    "span_of_days": words.as_span_of_days,
    "spelled": _unbroken(words.as_duration),
    "unbroken": _unbroken(str),
    "with_days": words.with_days,
}
"""The filters of the templates."""


def filters_in(speech: Speech) -> dict[str, Callable[..., object]]:
    """Return the filters that write days and rows of sentences as a language does; `first_up` begins one with a
    capital.

    `again` tells again what tables keep in English, and `cited` does so with sources in a row; `or_english` marks a
    sentence that cannot be said in the language as English. In English they are those of FILTERS.
    """

    def told(text: str) -> str:
        return speech.written(text) if isinstance(text, Sentence) else text

    def first_up(text: str) -> str:
        begins = told(text)
        return begins[:1].upper() + begins[1:]

    def or_english(text: str) -> str | Markup:
        if speech.can_say(text):
            return speech.said(text)
        return Markup('<span lang="en">{}</span>').format(text)

    def first_down(text: str) -> str:
        begins = told(text)
        return begins[:1].lower() + begins[1:]

    return {
        "ago": speech.ago,
        "again": speech.retold,
        "came": lambda result: speech(TURN_RESULTS[result]),
        "cited": lambda sources: cited(sources or "", speech),
        "clock": speech.clock,
        "clipped": lambda text, most=120: clipped(text, most, speech),
        "day": _unbroken(speech.day),
        "figure": speech.figure,
        "first_down": first_down,
        "first_up": first_up,
        "first_up_if": lambda text, is_so: first_up(text) if is_so else text,
        "listed": speech.listed,
        "hours": _unbroken(lambda seconds: speech.grouped(words.as_hours(seconds))),
        "long_day": speech.long_day,
        "moment": speech.moment,
        "or_english": or_english,
        "pay": _unbroken(speech.pay),
        "said": speech.said,
        "short_day": _unbroken(speech.short_day),
        "signed": _unbroken(lambda seconds: speech.grouped(words.as_change(seconds))),
        "spelled": _unbroken(lambda seconds: speech.grouped(words.as_duration(seconds))),
        "span_of_days": speech.span_of_days,
        "slip": lambda kind: speech(SLIP_NAMES[kind]),
        "told": lambda texts, between=" ": between.join(told(one) for one in texts),
    }
