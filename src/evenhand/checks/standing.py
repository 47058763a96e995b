"""Where roster, readers and punches disagree: why each kind matters, what makes one finding, and the way out."""

from __future__ import annotations

import polars as pl

from evenhand.checks.consents import LAW
from evenhand.checks.disagreement import Disagreement, Row, Told
from evenhand.checks.facts import Facts
from evenhand.checks.files import file_lost_zeros
from evenhand.checks.words import call
from evenhand.terms.words import counted, listed

__all__ = ["DISAGREEMENTS"]


def _put_zeros_back(facts: Facts, rows: list[Row], told: Told) -> str:
    who, number, readers, right = (told[name] for name in ("who", "number", "readers", "right"))
    if len(right) < len(number):
        return f"On People, give {who} the number {number} with its zeros, and keep that column as text."
    return (
        f"If the file lost the zeros, take it again with that column as text; if {number} stands at {readers} itself, "
        f"enrol {who} there under {right} and then remove {number}."
    )


def _ask_whose(facts: Facts, rows: list[Row], told: Told) -> str:
    punched = sum(row["punches"] for row in rows)
    strays = f", with the {counted(punched, 'punch', 'punches')} under them on Strays" if punched else ""
    are = "is" if len(rows) == 1 else "are"
    return (
        f"At {told['reader']}, find out whose {told['numbers']} {are}{strays}; enrol the hand under its roster number, "
        "or remove the number if nobody claims it."
    )


def _name_supervisors(facts: Facts, rows: list[Row], told: Told) -> str:
    reader = told["reader"]
    steps = facts.reader_steps.filter(pl.col("reader") == reader, pl.col("action") == "enrol_supervisor")
    chosen = [f"{name} under {number}" for name, number in steps.select("name", "number").iter_rows()]
    if chosen:
        return f"At {reader}, enrol as supervisor {listed(chosen)}."
    site = facts.reader_sites.get(reader)
    return f"Name two supervisors for site {site} on People; then enrol them at {reader} first."


DISCOUNTED = {
    "wrong_number": "{} stands under a wrong number",
    "lost_zeros": "{} stands under a number without its zeros",
    "shared_number": "{} stands under a number that is not theirs alone",
    "leaver_enrolled": "{} has left",
    "release_ended": "{} has asked for their hand to be taken off",
}
"""Why somebody who is listed with authority is no supervisor, by the kind of discrepancy."""


def not_counted(facts: Facts, reader: str) -> list[dict[str, str | None]]:
    """Return number, person and kind of the discrepancy of whoever is listed with authority and does not count."""
    listed_there = facts.enrolments.filter(pl.col("reader") == reader, pl.col("is_supervisor").fill_null(value=False))
    of_reader = facts.discrepancies.filter(
        (pl.col("reader") == reader) & pl.col("kind").is_in([*DISCOUNTED, "unknown_enrolment"])
    )
    told = listed_there.select("number").join(of_reader, on="number").unique("number", keep="first")
    return told.sort("number").select("number", "person", "kind").to_dicts()


def _why_few(facts: Facts, rows: list[Row]) -> dict[str, str]:
    left_out = not_counted(facts, rows[0]["reader"])
    if not left_out:
        return {"why": ""}
    why = [
        DISCOUNTED.get(str(one["kind"]), "nobody holds {}").format(
            call(facts, one["person"]) if one["person"] else one["number"]
        )
        for one in left_out
    ]
    are = "1 more is listed and does" if len(left_out) == 1 else f"{len(left_out)} more are listed and do"
    return {"why": f": {are} not count, since {listed(why, 3)}"}


def _at(facts: Facts, kind: str, reader: str) -> list[str]:
    return facts.discrepancies_of(kind).filter(pl.col("reader") == reader)["number"].to_list()


def _make_room(facts: Facts, rows: list[Row], told: Told) -> str:
    gone = _at(facts, "leaver_enrolled", told["reader"])
    first = listed(gone) if gone else "whoever never uses it"
    return f"Remove at {told['reader']} first {first}; then enrol there only who uses it."


def _who_fills_it(facts: Facts, rows: list[Row]) -> tuple[str, ...]:
    gone, idle = (len(_at(facts, kind, rows[0]["reader"])) for kind in ("leaver_enrolled", "unproved"))
    return (f"Of these, {gone} of people who left and {idle} without a punch there.",)


DISAGREEMENTS = (
    Disagreement(
        code="leaver_enrolled",
        title="Leavers still enrolled",
        why="A number that stays on a reader can be keyed, and what a reader holds of a hand is to be deleted when "
        "its purpose ends (for Illinois 740 ILCS 14/15(a): at the latest three years after the last interaction; "
        "other places have their own terms).",
        next_step="Remove the number from each reader that lists it, once a second supervisor stands there.",
        by=("person", "number"),
        subject="{person}",
        says="{who} has left and is still enrolled at {readers}.",
        do="Remove {number} at {readers}, in the order of the steps on Readers, and record the deletion.",
        law="retention: for Illinois 740 ILCS 14/15(a); the law of the place decides",
    ),
    Disagreement(
        code="release_ended",
        title="Still enrolled, and clocks another way",
        why="Whoever withdrew the release, did not agree or chose another way has said that the reader is to hold no "
        "hand of theirs; what it holds is destroyed once its purpose has ended (for Illinois 740 ILCS 14/15(a)).",
        next_step="Remove the number from each reader that lists it, keep the proof, and offer the other way to clock.",
        by=("person", "number"),
        subject="{person}/{number}",
        says="{who} clocks another way by their own word and is still enrolled at {readers}.",
        do="Remove {number} at {readers}, in the order of the steps on Readers, keep the proof of the deletion, and "
        "offer another way to clock; punctuality is judged alike.",
        law=LAW,
    ),
    Disagreement(
        code="lost_zeros",
        title="Leading zeros lost",
        why="A spreadsheet or a list that treats numbers as quantities drops zeros in front, and 0123 and 123 are two "
        "numbers to a reader.",
        next_step="Put the number right where it was shortened: in the file, on the roster or on the reader.",
        by=("person", "number", "other"),
        subject="{person}/{number}",
        says="The number of {who} is {right} on the roster and {number} at {readers}.",
        do=_put_zeros_back,
        told_elsewhere=lambda facts: {
            number for finding in file_lost_zeros.find(facts) for number in finding.details["numbers"]
        },
    ),
    Disagreement(
        code="no_number",
        title="No number to key",
        why="Without a number on the roster nobody can be enrolled, and no punch can ever be theirs.",
        next_step="Give the person a number of the site's usual length, drawn at random, on People.",
        by=("person",),
        subject="{person}",
        says="{who} has no number on the roster.",
        do="On People, give {who} a number nobody holds or has held lately, neither taken from a telephone or address "
        "nor next to another; then enrol.",
    ),
    Disagreement(
        code="too_long",
        title="Number too long for a reader",
        why="A reader that accepts four digits never sees the fifth: the number cannot be keyed, or is cut to "
        "somebody else's.",
        next_step="Let the reader accept longer numbers, or give the person a shorter one everywhere.",
        by=("person", "number"),
        subject="{person}",
        says="{who} cannot key {number} at {readers}.",
        do="Set {readers} to {digits} digits, or give {who} a shorter number on People and enrol under it at every "
        "reader they use.",
        more=lambda facts, rows: {"digits": str(len(rows[0]["number"]))},
    ),
    Disagreement(
        code="wrong_number",
        title="Enrolled under another number",
        why="The number is the only link: the hand is accepted, and the hours go nowhere. Left to themselves people "
        "key the end of a telephone or house number, or slip by a digit.",
        next_step="Have a supervisor enrol the hand under the roster's number, and only then remove the wrong one.",
        by=("reader", "number"),
        subject="{reader}/{number}",
        says="At {reader}, {number} may be the hand of {who}, whose number is {right}.",
        do="At {reader}, have a supervisor ask {who} to key {number}; if the hand is accepted, enrol it under {right}, "
        "prove it with a punch, and then remove {number}.",
    ),
    Disagreement(
        code="unknown_enrolment",
        title="Unknown numbers enrolled",
        why="An enrolment nobody can name is either somebody whose hours go nowhere, or a hand that should no longer "
        "be held.",
        next_step="Find out whose hand it is before removing anything; removing takes the number, not the person.",
        by=("reader",),
        subject="{reader}",
        says="{reader} lists {count} that nobody on the roster holds: {numbers}.",
        do=_ask_whose,
        most=12,
        people=lambda facts, rows: len(rows),
        more=lambda facts, rows: {
            "count": counted(len(rows), "number"),
            "numbers": listed([row["number"] for row in rows]),
        },
    ),
    Disagreement(
        code="few_supervisors",
        title="Fewer than two supervisors on a reader",
        why="Only a supervisor who proves the own hand can enrol others. With one, a day of absence stops every "
        "enrolment; with none, anybody can make themselves one (common practice, no source).",
        next_step="Enrol a second supervisor of the site before anything else is done at that reader.",
        by=("reader",),
        subject="{reader}",
        says="{reader} has fewer than two supervisors{why}.",
        do=_name_supervisors,
        people=lambda facts, rows: facts.enrolled_at(rows[0]["reader"]),
        more=_why_few,
        beside=lambda facts, rows: {"not_counted": not_counted(facts, rows[0]["reader"])},
    ),
    Disagreement(
        code="supervisor_mismatch",
        title="Authority differs from the roster",
        why="Whoever has authority on a reader can enrol a hand under any number; a supervisor without it cannot help "
        "anybody.",
        next_step="Enrol the supervisor with authority, or the other again without it, while another supervisor "
        "stands.",
        by=("reader",),
        subject="{reader}",
        says="{count} at {reader} differ from the roster: {hands}.",
        do="Decide on People who is a supervisor; then follow the steps for {reader} on Readers.",
        people=lambda facts, rows: len(rows),
        more=lambda facts, rows: {
            "count": counted(len(rows), "authority", "authorities"),
            "hands": listed([f"{row['number']} {call(facts, row['person'])}" for row in rows]),
        },
    ),
    Disagreement(
        code="near_capacity",
        title="A reader is nearly full",
        why="A full reader takes no further hand, so the next person to start cannot clock there.",
        next_step="Remove leavers and people who never use that reader, or plan for another one.",
        by=("reader",),
        subject="{reader}",
        says="{reader} is nearly full.",
        do=_make_room,
        people=lambda facts, rows: 0,
        also=_who_fills_it,
    ),
)
"""The checks whose findings are discrepancies of their kind, in words."""
