"""A supervisor's list as it comes back filled in: each answer becomes a suggestion, all of them or none."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time

from evenhand.jobs.missing import ANSWERS
from evenhand.jobs.reckoning import Reckoning
from evenhand.jobs.suggestions import Suggested, SuggestionListed, suggest
from evenhand.jobs.workspace import Workspace
from evenhand.terms.csv_text import as_it_was
from evenhand.terms.records import Refusal
from evenhand.terms.zones import check_reckoned, instants_at

__all__ = ["civil_answer", "take_answers"]

NEEDED = ("person", "day", *ANSWERS)
TIMES = ("%H:%M", "%H:%M:%S", "%I:%M %p", "%I:%M%p")
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

    Raises Refusal, with file, line and column, where a row cannot be understood; then nothing is kept.
    """
    asked = []
    for line, row in _rows(content, file):
        if not any(row[name] for name in ANSWERS):
            continue
        try:
            asked.append(_suggested(reckoning, row, supervisor, author))
        except Refusal as refusal:
            raise Refusal(f"{file}, line {line}: {refusal}") from refusal
    if not asked:
        raise Refusal(f"{file} holds no answer: write into {', '.join(ANSWERS)}, and hand it in again.")
    return suggest(workspace, reckoning, asked, as_of=as_of)


def _rows(content: bytes, file: str) -> Iterator[tuple[int, dict[str, str]]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise Refusal(f"{file} is not written in UTF-8; save it as CSV UTF-8.") from fault
    first = text.partition("\n")[0]
    delimiter = max(",;\t", key=first.count)
    table = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    header = [cell.strip().lower() for cell in next(table, [])]
    if lacking := [name for name in NEEDED if name not in header]:
        raise Refusal(
            f"{file}, line 1: there is no column {lacking[0]}; fill in the list that `missing list --csv` wrote."
        )
    at = {name: header.index(name) for name in NEEDED}
    try:
        for cells in table:
            yield (
                table.line_num,
                {name: cells[place].strip() if place < len(cells) else "" for name, place in at.items()},
            )
    except csv.Error as fault:
        raise Refusal(f"{file}, line {table.line_num}: {fault}; save it as CSV again.") from fault


def _suggested(reckoning: Reckoning, row: Mapping[str, str], supervisor: str, author: str) -> Suggested:
    person, on = as_it_was(row["person"]), _day(row["day"], "day")
    way = WAYS.get(row["answer_way"].lower(), "")
    if way == "":
        raise Refusal(f'answer_way "{row["answer_way"]}" is neither in nor out.')
    at = None
    if row["answer_time"]:
        zone = reckoning.snapshot.rules_of(reckoning.snapshot.find_person(person)["site"]).on(on).zone
        at = civil_answer(zone, _day(row["answer_day"], "answer_day") if row["answer_day"] else on, row["answer_time"])
    action = "look" if at is None else "add"
    return Suggested(person, on, action, "file", at, way, row["answer_words"], supervisor, author)


def _day(text: str, column: str) -> date:
    try:
        return check_reckoned(date.fromisoformat(text))
    except ValueError as fault:
        raise Refusal(f'{column} "{text}" is no date as the list writes it; write it as 2026-03-04.') from fault


def civil_answer(zone: str, day: date, written: str, which: str = "") -> datetime:
    """Return the instant of a time as the clock on the wall shows it; raises Refusal where it is none, or two.

    `which` says whether the `first` or the `second` is meant where clocks showed the time twice.
    """
    for form in TIMES:
        try:
            clock: time = datetime.strptime(written.strip().upper(), form).time()
        except ValueError:
            continue
        instants = instants_at(zone, datetime.combine(day, clock))
        if not instants:
            raise Refusal(f"clocks in {zone} skipped {written} on {day}; give a time that they showed.")
        if len(instants) > 1 and which not in ("first", "second"):
            raise Refusal(f"clocks in {zone} showed {written} twice on {day}; say in words which of the two is meant.")
        return datetime.fromtimestamp(instants[-1] if which == "second" else instants[0], UTC)
    raise Refusal(f'"{written}" is no time; write it as 16:30 or 4:30 PM.')
