"""The tables of the store as frames, each as it is at the beginning of the transaction that reads it."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Collection

import polars as pl
import sqlalchemy as sa

from evenhand.store import kept
from evenhand.store.consents import consent, consent_decisions, consent_policies, consent_takes
from evenhand.store.handed_off import adjustments, handed_off_lines, handoffs, printed_figures
from evenhand.store.hands_told import enrolment_history, hands_replaced, last_seen, presented
from evenhand.store.identity import under_identifiers
from evenhand.store.keyed_rows import keyed, keyed_by_identifier
from evenhand.store.parts import read_details, read_parts
from evenhand.store.presentations import placed
from evenhand.store.roster_history import earlier_last_days, gone_people, roster_told, rosters_taken
from evenhand.store.same_punch import lay_over
from evenhand.store.standing import standing
from evenhand.store.tables import KEYED, PUNCH_SHIFT, STORED
from evenhand.store.whole_columns import read_columns
from evenhand.terms.columns import Frame
from evenhand.terms.files_told import (
    CLOCK_CHANGES,
    FORMER_NUMBERS,
    NUMBERS_TOLD,
    SETTINGS_NOTICED,
    TAKE_SPANS,
    WRITTEN_ZONES,
)
from evenhand.terms.own_steps import OWN_STEPS
from evenhand.terms.retention import ERASURES, HOLDS
from evenhand.terms.rounds import OUTCOMES, ROUND_ITEMS, ROUNDS
from evenhand.terms.signing import DISPUTE_ANSWERS, DISPUTES, SIGNOFFS, STATEMENT_CODES
from evenhand.terms.suggestions import SUGGESTION_ANSWERS, SUGGESTIONS
from evenhand.terms.tables import CORRECTIONS, PREMIUM_DECISIONS, REJECTED_ATTRIBUTIONS
from evenhand.terms.teaching import PRACTICES

__all__ = [
    "adjustments",
    "changes",
    "clock_changes",
    "consent",
    "consent_decisions",
    "consent_policies",
    "consent_takes",
    "corrections",
    "dispute_answers",
    "disputes",
    "earlier_last_days",
    "earnings",
    "enrolment_history",
    "enrolments",
    "enrolments_ever",
    "erasures",
    "former_numbers",
    "gone_people",
    "handed_off_lines",
    "handoffs",
    "hands_replaced",
    "hanging",
    "holds",
    "keyed",
    "known_as",
    "last_seen",
    "numbers_told",
    "outcomes",
    "own_steps",
    "people",
    "practices",
    "premium_decisions",
    "presented",
    "printed_figures",
    "rates",
    "readers",
    "recorded",
    "recorded_punch",
    "rejected_attributions",
    "roster_told",
    "rosters_taken",
    "round_items",
    "rounds",
    "schedules",
    "settings_noticed",
    "settled",
    "signoffs",
    "statement_codes",
    "suggestion_answers",
    "suggestions",
    "take_decisions",
    "take_spans",
    "takes",
    "written_zones",
]


def people(conn: sa.Connection, of: Collection[str] | None = None) -> Frame:
    """Return the roster, by person: whole, or `of` some people."""
    return keyed(conn, KEYED["people"], None if of is None else STORED["people"].c.person.in_(list(of)))


def readers(conn: sa.Connection) -> Frame:
    """Return the readers, by name."""
    return keyed(conn, KEYED["readers"])


def enrolments(conn: sa.Connection) -> Frame:
    """Return the enrolments that the readers list now, by reader and number."""
    gone = STORED["enrolments"].c.gone
    return keyed(conn, KEYED["enrolments"], gone.is_(None))


def enrolments_ever(conn: sa.Connection) -> Frame:
    """Return every enrolment that a reader ever listed, by reader and number."""
    return keyed(conn, KEYED["enrolments"])


def holds(conn: sa.Connection) -> Frame:
    """Return the legal holds placed and lifted (HOLDS), in order."""
    return keyed_by_identifier(conn, HOLDS)


def erasures(conn: sa.Connection) -> Frame:
    """Return what was erased (ERASURES), in order."""
    return keyed(conn, ERASURES)


def known_as(conn: sa.Connection) -> dict[str, str]:
    """Return the identifier of now of whoever was listed under a number until then."""
    stored = STORED["people"].c
    rows = sa.select(stored.person, stored.known_as).where(stored.known_as.is_not(None))
    return dict(iter(conn.execute(rows).all()))


def schedules(conn: sa.Connection, since: int | None = None, until: int | None = None) -> Frame:
    """Return the schedules, by person and start; those that end after `since` and start before `until`."""
    stored = STORED["schedules"].c
    bounds = [] if since is None else [stored.ends_at > since]
    if until is not None:
        bounds.append(stored.starts_at < until)
    return keyed_by_identifier(conn, KEYED["schedules"], sa.and_(*bounds) if bounds else None)


def own_steps(conn: sa.Connection) -> Frame:
    """Return the workplace's own steps at its kinds of reader (OWN_STEPS), in the order they were written."""
    return keyed(conn, OWN_STEPS)


def rates(conn: sa.Connection) -> Frame:
    """Return what people are paid by, by person, first day and reader."""
    return keyed_by_identifier(conn, KEYED["rates"])


def earnings(conn: sa.Connection) -> Frame:
    """Return what was earned beside the hours, by person and first day."""
    return keyed_by_identifier(conn, KEYED["earnings"])


def corrections(conn: sa.Connection) -> Frame:
    """Return the corrections, in the order they were made, under the numbers that their punches have now."""
    return placed(conn, keyed_by_identifier(conn, CORRECTIONS))[0]


def hanging(conn: sa.Connection) -> Frame:
    """Return the corrections whose punches are stored no more (CORRECTED), since their takes are taken back."""
    return placed(conn, keyed(conn, CORRECTIONS))[1]


def clock_changes(conn: sa.Connection) -> Frame:
    """Return what readers' clocks ran in before a file changed it (CLOCK_CHANGES), in order."""
    stored = STORED["changes"].c
    of_readers = sa.select(stored["take"], stored.row_key, stored.was).where(stored.table == "readers")
    rows = [
        {"reader": json.loads(key)["reader"], "take": take, "zone": json.loads(was).get("zone")}
        for take, key, was in conn.execute(of_readers.order_by(stored.change))
    ]
    return CLOCK_CHANGES.rows(row for row in rows if row["zone"] is not None)


def former_numbers(conn: sa.Connection) -> Frame:
    """Return which numbers were people's until a roster changed them (FORMER_NUMBERS), by person, number and take."""
    stored, takes = STORED["changes"].c, STORED["takes"].c
    of_people = (
        sa.select(stored["take"], takes.file, takes.taken_at, stored.row_key, stored.was)
        .join_from(STORED["changes"], STORED["takes"], stored["take"] == takes["take"])
        .where(stored.table == "people")
    )
    # Read from the newest back, each number is compared with the one that came after it.
    people = STORED["people"].c
    after: dict[str, str | None] = dict(iter(conn.execute(sa.select(people.person, people.number)).all()))
    rows = []
    for take, file, taken_at, key, was in conn.execute(of_people.order_by(stored.change.desc())):
        person, said = json.loads(key)["person"], json.loads(was)
        if "number" not in said:
            continue
        had, then = said["number"], after.get(person)
        if had is not None and had != then:
            at = {"take": take, "file": file, "until": taken_at}
            rows.append({"person": person, "number": had, "then": then, **at})
        after[person] = said["number"]
    return under_identifiers(conn, FORMER_NUMBERS, FORMER_NUMBERS.rows(rows)).sort(FORMER_NUMBERS.key)


def written_zones(conn: sa.Connection) -> Frame:
    """Return the zone that the layout of a take says its times are written in (WRITTEN_ZONES), where it says one."""
    read_by = [(one.take, one.layout) for one in standing(conn) if one.layout]
    stated = {layout: tomllib.loads(layout).get("zone") for layout in {layout for _, layout in read_by}}
    return WRITTEN_ZONES.rows({"take": take, "zone": stated[layout]} for take, layout in read_by if stated[layout])


def take_spans(conn: sa.Connection) -> Frame:
    """Return from when to when the punches in each file reach (TAKE_SPANS), by take and reader."""
    return keyed(conn, TAKE_SPANS)


def numbers_told(conn: sa.Connection) -> Frame:
    """Return which file told which number last (NUMBERS_TOLD); of readers' lists, those on them now."""
    people, enrolments = STORED["people"].c, STORED["enrolments"].c
    of_people = sa.select(people["take"], sa.literal("people").label("table"), people.number)
    of_lists = sa.select(enrolments["take"], sa.literal("enrolments").label("table"), enrolments.number)
    told = sa.union(of_people.where(people.number.is_not(None)), of_lists.where(enrolments.gone.is_(None)))
    rows = told.subquery()
    return read_columns(conn, NUMBERS_TOLD, sa.select(*(rows.c[name] for name in NUMBERS_TOLD.names)))


def take_decisions(conn: sa.Connection) -> Frame:
    """Return what was decided about takes (TAKE_DECISIONS), in order."""
    return keyed(conn, kept.TAKE_DECISIONS)


def premium_decisions(conn: sa.Connection) -> Frame:
    """Return what somebody said of hours owed beside time worked (PREMIUM_DECISIONS), in order."""
    return keyed_by_identifier(conn, PREMIUM_DECISIONS)


def rejected_attributions(conn: sa.Connection) -> Frame:
    """Return whose punches are not whose, as somebody said (REJECTED_ATTRIBUTIONS), in order."""
    return keyed_by_identifier(conn, REJECTED_ATTRIBUTIONS)


def takes(conn: sa.Connection) -> Frame:
    """Return the files taken (TAKES), in order."""
    return keyed(conn, kept.TAKES)


def changes(conn: sa.Connection) -> Frame:
    """Return what rows said before they were changed (CHANGES), in order."""
    return keyed(conn, kept.CHANGES)


def settled(conn: sa.Connection) -> Frame:
    """Return the findings answered (SETTLED), in order."""
    return keyed(conn, kept.SETTLED)


def settings_noticed(conn: sa.Connection) -> Frame:
    """Return when which file of settings was found to differ (SETTINGS_NOTICED), in order, without what it held."""
    stored = STORED["settings_texts"].c
    is_gone = stored.content.is_(None).cast(sa.Integer).label("is_gone")
    told = (stored.running, stored.file, is_gone, stored.noticed_at, stored.author, stored.reason, stored.withdraws)
    return read_columns(conn, SETTINGS_NOTICED, sa.select(*told)).sort("running")


def signoffs(conn: sa.Connection) -> Frame:
    """Return who confirmed and approved which hours (SIGNOFFS), in order."""
    return keyed_by_identifier(conn, SIGNOFFS)


def disputes(conn: sa.Connection) -> Frame:
    """Return what people say is wrong in their records (DISPUTES), in order."""
    return keyed_by_identifier(conn, DISPUTES)


def dispute_answers(conn: sa.Connection) -> Frame:
    """Return what was answered to disputes (DISPUTE_ANSWERS), in order."""
    return keyed(conn, DISPUTE_ANSWERS)


def suggestions(conn: sa.Connection) -> Frame:
    """Return what supervisors said of open questions (SUGGESTIONS), in order."""
    return keyed_by_identifier(conn, SUGGESTIONS)


def suggestion_answers(conn: sa.Connection) -> Frame:
    """Return what became of suggestions (SUGGESTION_ANSWERS), in order."""
    return keyed(conn, SUGGESTION_ANSWERS)


def practices(conn: sa.Connection) -> Frame:
    """Return who played the round to practise on (PRACTICES), in order."""
    return keyed_by_identifier(conn, PRACTICES)


def statement_codes(conn: sa.Connection, *, code: str | None = None, digest: str | None = None) -> Frame:
    """Return the codes printed on statements (STATEMENT_CODES), in order: all, the one `code`, or those of hours."""
    stored = STORED["statement_codes"].c
    of_hours = None if digest is None else stored.digest == digest
    return keyed_by_identifier(conn, STATEMENT_CODES, of_hours if code is None else stored.code == code)


def rounds(conn: sa.Connection) -> Frame:
    """Return the rounds (ROUNDS), by name."""
    return keyed(conn, ROUNDS)


def round_items(conn: sa.Connection, round_name: str | None = None) -> Frame:
    """Return the items (ROUND_ITEMS) of one round, or of all, by item."""
    stored = STORED["round_items"].c.round
    return keyed_by_identifier(conn, ROUND_ITEMS, None if round_name is None else stored == round_name)


def outcomes(conn: sa.Connection, round_name: str | None = None) -> Frame:
    """Return the outcomes (OUTCOMES) of one round, or of all, by outcome."""
    items = STORED["round_items"]
    of_round = sa.select(items.c.item).where(items.c.round == round_name)
    return keyed(conn, OUTCOMES, None if round_name is None else STORED["outcomes"].c.item.in_(of_round))


def recorded(
    conn: sa.Connection,
    since: int | None = None,
    until: int | None = None,
    *,
    numbers: Collection[str] | None = None,
    punches: Collection[int] = (),
) -> Frame:
    """Return the punches from `since` on and before `until` [s since 1970-01-01T00:00:00Z], by reader and time.

    Each is as it was stored, with what later exports tell of it; one whose outcome no log says was accepted.
    Where `numbers` are given, only the punches under them, and those that `punches` names.
    """
    parts = STORED["punch_parts"].c
    # An export with seconds moves a punch within the minute that it is stored at.
    bounds = [] if since is None else [parts.last_at > since - 60]
    bounds += [] if until is None else [parts.first_at < until]
    frame, at = _with_details(conn, read_parts(conn, *bounds)), pl.col("at")
    if since is not None:
        frame = frame.filter(at >= since)
    if until is not None:
        frame = frame.filter(at < until)
    if numbers is not None:
        frame = frame.filter(pl.col("number").is_in(list(numbers)) | pl.col("punch").is_in(list(punches)))
    return frame


def recorded_punch(conn: sa.Connection, punch: int) -> Frame:
    """Return the one punch of this number (RECORDED); no row where there is none."""
    of_take = read_parts(conn, STORED["punch_parts"].c["take"] == punch >> PUNCH_SHIFT)
    return _with_details(conn, of_take.filter(pl.col("punch") == punch))


def _with_details(conn: sa.Connection, punches: Frame) -> Frame:
    """Return punches (RECORDED), by reader and time, with what later exports tell of them."""
    details = read_details(conn, punches["punch"])
    told = lay_over(punches, details)
    if details["at"].null_count() < details.height:
        told = told.sort("reader", "at", "punch")
    return told.with_columns(pl.col("outcome").fill_null("accepted")) if told["outcome"].null_count() else told
