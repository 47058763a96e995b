"""Where roster, readers and punches disagree: why each kind matters, what makes one finding, and the way out."""

from __future__ import annotations

import polars as pl

from evenhand.checks.consents import LAW
from evenhand.checks.disagreement import Disagreement, Row, Told
from evenhand.checks.facts import Facts
from evenhand.checks.files import file_lost_zeros
from evenhand.checks.words import call
from evenhand.terms.consent import stands_in_words
from evenhand.terms.languages import sentence, told

__all__ = ["DISAGREEMENTS"]


def _put_zeros_back(facts: Facts, rows: list[Row], given: Told) -> str:
    if len(given["right"]) < len(given["number"]):
        return told("On People, give {who} the number {number} with its zeros, and keep that column as text.", **given)
    return told(
        "If the file lost the zeros, take it again with that column as text; if {number} stands at {readers} itself, "
        "enrol {who} there under {right} and then remove {number}.",
        **given,
    )


def _ask_whose(facts: Facts, rows: list[Row], given: Told) -> str:
    punched = sum(row["punches"] for row in rows)
    strays = told(", with the {punched:# punch|# punches} under them on Strays", punched=punched) if punched else ""
    return told(
        "At {reader}, find out whose {numbers} {rows:is|are}{strays}; enrol the hand under its roster number, or "
        "remove the number if nobody claims it.",
        reader=given["reader"],
        numbers=given["numbers"],
        rows=len(rows),
        strays=strays,
    )


def _name_supervisors(facts: Facts, rows: list[Row], given: Told) -> str:
    reader = given["reader"]
    steps = facts.reader_steps.filter(pl.col("reader") == reader, pl.col("action") == "enrol_supervisor")
    chosen = [
        told("{name} under {number}", name=name, number=number)
        for name, number in steps.select("name", "number").iter_rows()
    ]
    if chosen:
        return told("At {reader}, enrol as supervisor {chosen:listed}.", reader=reader, chosen=chosen)
    site = facts.reader_sites.get(reader)
    return told(
        "Name two supervisors for site {site} on People; then enrol them at {reader} first.", site=site, reader=reader
    )


DISCOUNTED = {
    "wrong_number": sentence("{who} stands under a wrong number"),
    "lost_zeros": sentence("{who} stands under a number without its zeros"),
    "shared_number": sentence("{who} stands under a number that is not theirs alone"),
    "leaver_enrolled": sentence("{who} has left"),
    "release_ended": sentence("{who} has asked for their hand to be taken off"),
}
NOBODYS = sentence("nobody holds {who}")
"""Why somebody who is listed with authority is no supervisor, by the kind of discrepancy; else that nobody holds it."""


def not_counted(facts: Facts, reader: str) -> list[dict[str, str | None]]:
    """Return number, person and kind of the discrepancy of whoever is listed with authority and does not count."""
    listed_there = facts.enrolments.filter(pl.col("reader") == reader, pl.col("is_supervisor").fill_null(value=False))
    of_reader = facts.discrepancies.filter(
        (pl.col("reader") == reader) & pl.col("kind").is_in([*DISCOUNTED, "unknown_enrolment"])
    )
    found = listed_there.select("number").join(of_reader, on="number").unique("number", keep="first")
    return found.sort("number").select("number", "person", "kind").to_dicts()


def _why_few(facts: Facts, rows: list[Row]) -> dict[str, str]:
    left_out = not_counted(facts, rows[0]["reader"])
    if not left_out:
        return {"why": ""}
    why = [
        told(
            DISCOUNTED.get(str(one["kind"]), NOBODYS),
            who=call(facts, one["person"]) if one["person"] else one["number"],
        )
        for one in left_out
    ]
    return {
        "why": told(
            ": {count:# more is listed and does|# more are listed and do} not count, since {why:listed 3}",
            count=len(left_out),
            why=why,
        )
    }


def _at(facts: Facts, kind: str, reader: str) -> list[str]:
    return facts.discrepancies_of(kind).filter(pl.col("reader") == reader)["number"].to_list()


def _make_room(facts: Facts, rows: list[Row], given: Told) -> str:
    gone = _at(facts, "leaver_enrolled", given["reader"])
    first = told("{names:listed}", names=gone) if gone else told("whoever never uses it")
    return told(
        "Remove at {reader} first {first}; then enrol there only who uses it.", reader=given["reader"], first=first
    )


def _who_fills_it(facts: Facts, rows: list[Row]) -> tuple[str, ...]:
    gone, idle = (len(_at(facts, kind, rows[0]["reader"])) for kind in ("leaver_enrolled", "unproved"))
    return (told("Of these, {gone} of people who left and {idle} without a punch there.", gone=gone, idle=idle),)


def _their_word(facts: Facts, rows: list[Row]) -> dict[str, str]:
    """Return what the person said of having their hand held, and on which day."""
    (said,) = facts.consent.filter(pl.col("person") == rows[0]["person"]).iter_rows(named=True)
    return {"stands": stands_in_words(said)}


DISAGREEMENTS = (
    Disagreement(
        code="leaver_enrolled",
        title=told("Leavers still enrolled"),
        why=told(
            "A number that stays on a reader can still be keyed. What a reader holds of a hand is to be deleted when "
            "its purpose ends (for Illinois 740 ILCS 14/15(a): at the latest three years after the last interaction; "
            "other places have their own terms)."
        ),
        next_step=told("Remove the number from each reader that lists it, once a second supervisor stands there."),
        by=("person", "number"),
        subject="{person}",
        says=sentence("{who} has left and is still enrolled at {readers}."),
        do=sentence("Remove {number} at {readers}, in the order of the steps on Readers, and record the deletion."),
        law=told("retention: for Illinois 740 ILCS 14/15(a); the law of the place decides"),
    ),
    Disagreement(
        code="release_ended",
        title=told("Still enrolled, though they withdrew or said no"),
        why=told(
            "Whoever withdrew the release, did not agree or chose another way has said that the reader is to hold no "
            "hand of theirs. What it holds is destroyed once its purpose has ended (for Illinois 740 ILCS 14/15(a))."
        ),
        next_step=told(
            "Remove the number from each reader that lists it, keep the proof, and offer the other way to clock."
        ),
        by=("person", "number"),
        subject="{person}/{number}",
        says=sentence("{who} {stands} and is still enrolled at {readers}."),
        do=sentence(
            "Remove {number} at {readers}, in the order of the steps on Readers, keep the proof of "
            "the deletion, and offer another way to clock; punctuality is judged alike."
        ),
        law=LAW,
        more=_their_word,
    ),
    Disagreement(
        code="lost_zeros",
        title=told("Leading zeros lost"),
        why=told(
            "A spreadsheet or a list that treats numbers as quantities drops zeros in front, and "
            "0123 and 123 are two numbers to a reader."
        ),
        next_step=told("Put the number right where it was shortened: in the file, on the roster or on the reader."),
        by=("person", "number", "other"),
        subject="{person}/{number}",
        says=sentence("The number of {who} is {right} on the roster and {number} at {readers}."),
        do=_put_zeros_back,
        told_elsewhere=lambda facts: {
            number for finding in file_lost_zeros.find(facts) for number in finding.details["numbers"]
        },
    ),
    Disagreement(
        code="no_number",
        title=told("No number to key"),
        why=told("Without a number on the roster nobody can be enrolled, and no punch can ever be theirs."),
        next_step=told("Give the person a number of the site's usual length, drawn at random, on People."),
        by=("person",),
        subject="{person}",
        says=sentence("{who} has no number on the roster."),
        do=sentence(
            "On People, give {who} a number nobody holds or has held lately, neither taken from a "
            "telephone or address nor next to another; then enrol."
        ),
    ),
    Disagreement(
        code="too_long",
        title=told("Number too long for a reader"),
        why=told(
            "A reader that accepts four digits never sees the fifth: the number cannot be keyed, or "
            "is cut to somebody else's."
        ),
        next_step=told("Let the reader accept longer numbers, or give the person a shorter one everywhere."),
        by=("person", "number"),
        subject="{person}",
        says=sentence("{who} cannot key {number} at {readers}."),
        do=sentence(
            "Set {readers} to {digits} digits, or give {who} a shorter number on People and enrol "
            "under it at every reader they use."
        ),
        more=lambda facts, rows: {"digits": str(len(rows[0]["number"]))},
    ),
    Disagreement(
        code="wrong_number",
        title=told("Enrolled under another number"),
        why=told(
            "The number is the only link: the hand is accepted, and the hours go nowhere. Left to "
            "themselves people key the end of a telephone or house number, or slip by a digit."
        ),
        next_step=told(
            "Have a supervisor enrol the hand under the roster's number, and only then remove the wrong one."
        ),
        by=("reader", "number"),
        subject="{reader}/{number}",
        says=sentence("At {reader}, {number} may be the hand of {who}, whose number is {right}."),
        do=sentence(
            "At {reader}, have a supervisor ask {who} to key {number}; if the hand is accepted, "
            "enrol it under {right}, prove it with a punch, and then remove {number}."
        ),
    ),
    Disagreement(
        code="unknown_enrolment",
        title=told("Unknown numbers enrolled"),
        why=told(
            "An enrolment nobody can name is either somebody whose hours go nowhere, or a hand that "
            "should no longer be held."
        ),
        next_step=told(
            "Find out whose hand it is before removing anything; removing takes the number, not the person."
        ),
        by=("reader",),
        subject="{reader}",
        says=sentence("{reader} lists {count} that nobody on the roster holds: {numbers}."),
        do=_ask_whose,
        most=12,
        people=lambda facts, rows: len(rows),
        more=lambda facts, rows: {
            "count": told("{count:# number|# numbers}", count=len(rows)),
            "numbers": told("{names:listed}", names=[row["number"] for row in rows]),
        },
    ),
    Disagreement(
        code="few_supervisors",
        title=told("Fewer than two supervisors on a reader"),
        why=told(
            "Only a supervisor who proves the own hand can enrol others. With one, a day of absence "
            "stops every enrolment; with none, anybody can make themselves one (common practice, no "
            "source)."
        ),
        next_step=told("Enrol a second supervisor of the site before anything else is done at that reader."),
        by=("reader",),
        subject="{reader}",
        says=sentence("{reader} has fewer than two supervisors{why}."),
        do=_name_supervisors,
        people=lambda facts, rows: facts.enrolled_at(rows[0]["reader"]),
        more=_why_few,
        beside=lambda facts, rows: {"not_counted": not_counted(facts, rows[0]["reader"])},
    ),
    Disagreement(
        code="supervisor_mismatch",
        title=told("Authority differs from the roster"),
        why=told(
            "Whoever has authority on a reader can enrol a hand under any number; a supervisor "
            "without it cannot help anybody."
        ),
        next_step=told(
            "Enrol the supervisor with authority, or the other again without it, while another supervisor stands."
        ),
        by=("reader",),
        subject="{reader}",
        says=sentence("At {reader}, {count} from the roster: {hands}."),
        do=sentence("Decide on People who is a supervisor; then follow the steps for {reader} on Readers."),
        people=lambda facts, rows: len(rows),
        more=lambda facts, rows: {
            "count": told(
                "{count:the authority of # person differs|the authority of # people differs}", count=len(rows)
            ),
            "hands": told("{names:listed}", names=[f"{row['number']} {call(facts, row['person'])}" for row in rows]),
        },
    ),
    Disagreement(
        code="near_capacity",
        title=told("A reader is nearly full"),
        why=told("A full reader takes no further hand, so the next person to start cannot clock there."),
        next_step=told("Remove leavers and people who never use that reader, or plan for another one."),
        by=("reader",),
        subject="{reader}",
        says=sentence("{reader} is nearly full."),
        do=_make_room,
        people=lambda facts, rows: 0,
        also=_who_fills_it,
    ),
)
"""The checks whose findings are discrepancies of their kind, in words."""
