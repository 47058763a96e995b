"""What a form asks of an enrolment day, as the day that is planned from it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from evenhand.jobs.enrolment_day import AskedDay, Busy
from evenhand.jobs.languages import said_in_english
from evenhand.jobs.snapshot import Snapshot
from evenhand.terms.characters import escaped
from evenhand.terms.languages import sentence, told
from evenhand.terms.lines import as_line
from evenhand.web.forms import IncompleteForm

__all__ = ["DAY_FIELDS", "asked_day", "first_of", "people_of"]

DAY_FIELDS = {
    "day": "",
    "title": AskedDay.title,
    "begins": "08:00",
    "ends": "16:00",
    "slot": "20",
    "each": "5",
    "people": "",
    "again": "",
    "spanish": "",
    "busy": "",
    "most_away": "",
    "unattended": "",
}
"""What the form asks, with what stands there at first; `reader` beside it may be marked several times."""
MOST_MINUTES = 24 * 60


def first_of(asked: Mapping[str, Sequence[str]], name: str) -> str:
    """Return what was written under a name, or what stands there at first."""
    return next(iter(asked.get(name, ())), DAY_FIELDS.get(name, ""))


def asked_day(asked: Mapping[str, Sequence[str]], snapshot: Snapshot) -> AskedDay:
    """Return the day that a form asks for; raises IncompleteForm, naming the field, where it cannot be read."""
    said = first_of(asked, "day")
    try:
        day = date.fromisoformat(said)
    except ValueError as fault:
        raise IncompleteForm(
            told('"{written}" is no day; write it as 2026-01-04. Nothing was planned.', written=escaped(said))
        ) from fault
    title = as_line(first_of(asked, "title"), "The title")
    most_away = first_of(asked, "most_away").strip()
    return AskedDay(
        day=day,
        title=said_in_english(title, [AskedDay.title]) or AskedDay.title,
        starts_s=_seconds(first_of(asked, "begins"), sentence("From")),
        ends_s=_seconds(first_of(asked, "ends"), sentence("To")),
        slot_s=_whole(first_of(asked, "slot"), sentence("A slot lasts")) * 60,
        each_s=_whole(first_of(asked, "each"), sentence("One enrolment takes")) * 60,
        readers=tuple(asked.get("reader", ())),
        people=people_of(first_of(asked, "people"), snapshot),
        again=people_of(first_of(asked, "again"), snapshot),
        busy=tuple(_busy(first_of(asked, "busy"))),
        crew_most=_whole(most_away, sentence("At most away")) if most_away else None,
        attended=not first_of(asked, "unattended"),
        languages=tuple((person, "es") for person in people_of(first_of(asked, "spanish"), snapshot)),
    )


def people_of(text: str, snapshot: Snapshot) -> tuple[str, ...]:
    """Return the people that are named one a line, by identifier, number or name; raises Unknown for nobody's."""
    return tuple(dict.fromkeys(str(snapshot.find_person(line)["person"]) for line in _lines(text)))


def _lines(text: str) -> Iterator[str]:
    return filter(None, (line.strip() for line in text.splitlines()))


def _busy(text: str) -> Iterator[Busy]:
    for line in _lines(text):
        department, _, span = line.rpartition("@")
        begins, dash, ends = span.partition("-")
        if not dash:
            raise IncompleteForm(
                told(
                    'Nobody is called away: "{written}" is not understood; write it as 10:00-10:30, or with a '
                    "department before it, as Packing@10:00-10:30. Nothing was planned.",
                    written=escaped(line),
                )
            )
        starts_s, ends_s = (_seconds(time, sentence("Nobody is called away")) for time in (begins, ends))
        yield Busy(starts_s, ends_s, department or None)


def _seconds(text: str, field: str) -> int:
    hours, _, minutes = text.strip().partition(":")
    is_time = (hours + minutes).isdecimal() and 0 < len(hours) < 3 and len(minutes) == 2
    if is_time and int(hours) <= 24 and int(minutes) < 60:
        return int(hours) * 3600 + int(minutes) * 60
    raise IncompleteForm(
        told(
            '{field}: "{written}" is no time of day; write it as 08:00. Nothing was planned.',
            field=told(field),
            written=escaped(text),
        )
    )


def _whole(text: str, field: str) -> int:
    said = text.strip()
    if said.isdecimal() and len(said) < 9 and 0 < int(said) <= MOST_MINUTES:
        return int(said)
    raise IncompleteForm(
        told(
            '{field}: "{written}" is no whole number above 0; write figures. Nothing was planned.',
            field=told(field),
            written=escaped(text),
        )
    )
