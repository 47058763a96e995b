"""A supervisor's list as it comes back filled in: each answer becomes a suggestion, all of them or none."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime
from itertools import permutations

from evenhand.jobs.missing import ANSWERS, open_days
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.suggestions import Suggested, SuggestionListed, check_suggested, suggest
from evenhand.jobs.workspace import Workspace
from evenhand.layouts.forms.encoding import DAMAGED, is_workbook, to_utf8
from evenhand.terms.csv_text import as_it_was
from evenhand.terms.languages import said_of, sentence, told
from evenhand.terms.records import Refusal
from evenhand.terms.wall_clock import instant_shown, read_time
from evenhand.terms.zones import check_reckoned

__all__ = ["take_answers"]

NEEDED = ("person", "day", *ANSWERS)
REWRITTEN = re.compile(r"(\d{1,4})[/.-](\d{1,2})[/.-](\d{1,4})")
ASK = sentence("say in words which of the two is meant")
EITHER_DAY = sentence(
    '{column} "{text}" may be either of two days that are asked about; write it as 2026-03-04, as the list did.'
)
NO_DAY = sentence('{column} "{text}" is no day that this list asks about; write it as 2026-03-04, as the list did.')
WAYS = {"": None, "in": "in", "out": "out"}


def take_answers(
    workspace: Workspace,
    reckoning: Reckoning,
    content: bytes,
    file: str,
    *,
    supervisor: str,
    author: str,
    as_of: datetime,
) -> list[SuggestionListed]:
    """Keep what a filled-in list says, and return the suggestions in its order; rows without an answer are passed by.

    A day that a spreadsheet wrote its own way, as 11/13/2026, is read where one reading alone is a day asked about.
    Raises Refusal, with file and line, where a row cannot be understood or kept; then nothing is kept.
    """
    asked = []
    for line, row in _rows(content, file):
        if not any(row[name] for name in ANSWERS):
            continue
        try:
            one = _suggested(reckoning, row, supervisor, author)
            check_suggested(reckoning, one, as_of=as_of)
            asked.append(one)
        except Refusal as refusal:
            raise Refusal(told("{file}, line {line}: {why}", file=file, line=line, why=said_of(refusal))) from refusal
    if not asked:
        raise Refusal(
            told(
                "{file} holds no answer: write into {columns}, and hand it in again.",
                file=file,
                columns=", ".join(ANSWERS),
            )
        )
    return suggest(workspace, reckoning, asked, as_of=as_of)


def _rows(content: bytes, file: str) -> Iterator[tuple[int, dict[str, str]]]:
    if is_workbook(content):
        raise Refusal(told("{file} is a workbook; save the list as CSV, and hand that in.", file=file))
    try:
        text = to_utf8(file, content).decode()
    except Refusal as refusal:
        raise Refusal(
            told("{file} is no text whose letters can be told; save it as CSV UTF-8.", file=file)
        ) from refusal
    first = text.partition("\n")[0]
    delimiter = max(",;\t", key=first.count)
    table = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    header = [cell.strip().lower() for cell in next(table, [])]
    if lacking := [name for name in NEEDED if name not in header]:
        raise Refusal(
            told(
                "{file}, line 1: there is no column {column}; fill in the list of Missing punches.",
                file=file,
                column=lacking[0],
            )
        )
    at = {name: header.index(name) for name in NEEDED}
    try:
        for cells in table:
            yield (
                table.line_num,
                {name: cells[place].strip() if place < len(cells) else "" for name, place in at.items()},
            )
    except csv.Error as fault:
        raise Refusal(
            told("{file}, line {line}: {why}; save it as CSV again.", file=file, line=table.line_num, why=str(fault))
        ) from fault


def _suggested(reckoning: Reckoning, row: Mapping[str, str], supervisor: str, author: str) -> Suggested:
    if any(DAMAGED in cell for cell in row.values()):
        raise Refusal(told("some of its letters cannot be told; save the list as CSV UTF-8."))
    who = reckoning.snapshot.find_person(as_it_was(row["person"]))
    person = str(who["person"])
    on = _day(row["day"], "day", lambda day: _is_asked(reckoning, person, day))
    way = WAYS.get(row["answer_way"].lower(), "")
    if way == "":
        raise Refusal(told('answer_way "{written}" is neither in nor out.', written=row["answer_way"]))
    at = None
    if row["answer_time"]:
        zone = reckoning.snapshot.rules_of(who["site"]).on(on).zone
        written = row["answer_day"]
        day = _day(written, "answer_day", lambda day: abs((day - on).days) <= 1) if written else on
        at = instant_shown(zone, datetime.combine(day, read_time(row["answer_time"])), ask=ASK)
    action = "look" if at is None else "add"
    return Suggested(person, on, action, "file", at, way, row["answer_words"], supervisor, author)


def _is_asked(reckoning: Reckoning, person: str, day: date) -> bool:
    period = reckoning.period(day)
    if not reckoning.snapshot.covers(period.first, period.last) or period.first > reckoning.period().last:
        return False
    return any((one.person, one.day) == (person, day) for one in open_days(reckoning, day))


def _day(text: str, column: str, fits: Callable[[date], bool]) -> date:
    """Return a day as the list writes it, or as a spreadsheet rewrote it where one reading of that alone `fits`."""
    try:
        return check_reckoned(date.fromisoformat(text))
    except ValueError:
        read = {day for day in _readings(text) if fits(day)}
    if len(read) != 1:
        raise Refusal(told(EITHER_DAY if read else NO_DAY, column=column, text=text))
    return read.pop()


def _readings(text: str) -> Iterator[date]:
    """Yield each day that three numbers may be, whichever of them is the year of four digits, the month and the day."""
    found = REWRITTEN.fullmatch(text)
    for year, month, day in permutations(found.groups()) if found else ():
        if len(year) == 4:
            try:
                yield check_reckoned(date(int(year), int(month), int(day)))
            except (ValueError, Refusal):
                continue
