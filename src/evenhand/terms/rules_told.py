"""The rules that hours are worked out by at a site, in words."""

from __future__ import annotations

from evenhand.terms.languages import Sentence, Speech, sentence, told
from evenhand.terms.settings import WEEKDAYS, SiteRules

__all__ = ["cited", "rounding_in_words", "rules_in_words"]

WEEKDAYS_TOLD = dict(
    zip(
        WEEKDAYS,
        (
            sentence("Monday"),
            sentence("Tuesday"),
            sentence("Wednesday"),
            sentence("Thursday"),
            sentence("Friday"),
            sentence("Saturday"),
            sentence("Sunday"),
        ),
        strict=True,
    )
)


def cited(sources: str, speech: Speech) -> str:
    """Return sources in a row as a language has them: what is no law's name, such as `common practice`, is told."""
    return "; ".join(map(speech.retold, sources.split("; ")))


def rounding_in_words(rounding_s: int) -> Sentence:
    """Return what is done to recorded times, such as `each punch to the nearest 15 minutes`."""
    if not rounding_s:
        return told("not rounded")
    return told("each punch to the nearest {minutes} minutes", minutes=rounding_s // 60)


def rules_in_words(rules: SiteRules) -> Sentence:
    """Return the rules hours are worked out by: jurisdiction, where the workweek begins, rounding."""
    return told(
        "{jurisdiction}, workweek from {weekday} {time} {zone}, times {rounding}",
        jurisdiction=rules.jurisdiction,
        weekday=told(WEEKDAYS_TOLD[WEEKDAYS[rules.workweek_day]]),
        time=f"{rules.workweek_s // 3600:02d}:{rules.workweek_s // 60 % 60:02d}",
        zone=rules.zone,
        rounding=rounding_in_words(rules.rounding_s),
    )
