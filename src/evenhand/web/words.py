"""Words as pages write them: those of `terms.words`, with a figure and its unit kept on one line."""

from __future__ import annotations

from collections.abc import Callable

from evenhand.terms import words
from evenhand.terms.characters import escaped
from evenhand.terms.closing import change_in_short, changes_in_words, items_in_words
from evenhand.terms.languages import Sentence, Speech
from evenhand.web.addresses import in_path

__all__ = ["FILTERS", "clipped", "filters_in", "share_of"]

NO_BREAK = "\u00a0"


def clipped(text: str, most: int = 120) -> str:
    """Return a text up to so many characters, and how many it has where that is not all of it."""
    return text if len(text) <= most else f"{text[:most]}… ({len(text):,} characters)"


def _unbroken(written: Callable[..., str]) -> Callable[..., str]:
    return lambda *given: written(*given).replace(" ", NO_BREAK)


def share_of(part: float, whole: float) -> str:
    """Return a part of a whole in percent: in two figures below ten of a hundred, in whole ones above."""
    percent = 100 * part / whole
    return f"{percent:.2g} %" if percent < 9.95 else f"{percent:.0f} %"


FILTERS: dict[str, Callable[..., object]] = {
    "ago": words.ago,
    "clipped": clipped,
    "clock": words.as_clock,
    "day": _unbroken(words.as_day),
    "decided": words.decision_in_words,
    "escaped": escaped,
    "hours": _unbroken(words.as_hours),
    "in_path": in_path,
    "change_in_short": change_in_short,
    "change_lines": changes_in_words,
    "item_lines": items_in_words,
    "figures": words.as_figures,
    "long_day": words.as_long_day,
    "moment": words.as_moment,
    "pay": _unbroken(words.as_pay),
    "premium": words.premium_in_words,
    "plural": _unbroken(words.counted),
    "share_of": share_of,
    "short_day": _unbroken(words.as_short_day),
    "how_it_came": words.how_it_came,
    "some_saved": words.some_saved,
    "signed": _unbroken(words.as_change),
    "signed_figures": words.signed_figures,
    "span_of_days": words.as_span_of_days,
    "spelled": _unbroken(words.as_duration),
}
"""The filters of the templates."""


def filters_in(speech: Speech) -> dict[str, Callable[..., object]]:
    """Return the filters that write days and rows of sentences as a language does; `first_up` begins one with a
    capital.

    In English they are those of FILTERS.
    """

    def told(text: str) -> str:
        return speech.written(text) if isinstance(text, Sentence) else text

    def first_up(text: str) -> str:
        said = told(text)
        return said[:1].upper() + said[1:]

    return {
        "day": _unbroken(speech.day),
        "first_up": first_up,
        "long_day": speech.long_day,
        "moment": speech.moment,
        "said": speech.said,
        "short_day": _unbroken(speech.short_day),
        "span_of_days": speech.span_of_days,
        "told": lambda texts, between=" ": between.join(told(one) for one in texts),
    }
