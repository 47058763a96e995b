"""Every kind of discrepancy, each in a workplace of a few rows: all its columns, and the whole sentence of evidence."""

from __future__ import annotations

from datetime import date, timedelta

import polars as pl
import pytest

from evenhand.terms.tables import DISCREPANCIES
from tests.reconcile.test_compare import TODAY, compared, instant

YESTERDAY, TOMORROW = TODAY - timedelta(days=1), TODAY + timedelta(days=1)
MON, TUE, THU = (instant(f"2026-03-0{day}T08:00") for day in (2, 3, 5))
EAST, HILL = {"reader": "East"}, {"reader": "Hill", "site": "Quarry"}


def called(*numbers, **of_all):
    """Return people of these numbers."""
    return [{"number": number} | of_all for number in numbers]


def keyed(number, *times, **more):
    return [{"number": number, "at": at} | more for at in times]


def assert_found(kind, place, rows):
    """Assert that of this kind just these rows are found; a column that a row leaves out is empty."""
    everything = compared(**({"people": []} | place))
    assert everything["evidence"].null_count() == 0
    found = everything.filter(pl.col("kind") == kind)
    wanted = DISCREPANCIES.rows({"kind": kind, "punches": 0} | row for row in rows)
    assert found.rows(named=True) == wanted.rows(named=True)


# ---- the roster

ROSTER = {
    "nobody else is without a number: a leaver, somebody yet to come": (
        "no_number",
        {
            "people": [
                {"number": None},
                {"number": "  ", "name": "Ana Ruiz"},
                {"number": "1111"},
                {"number": None, "left_on": YESTERDAY},
                {"number": None, "hired_on": TOMORROW},
                {"number": None, "left_on": TODAY, "hired_on": TODAY},
            ]
        },
        [
            {"person": "P0", "evidence": "the roster gives Person 0 (P0) no number to key"},
            {"person": "P1", "evidence": "the roster gives Ana Ruiz (P1) no number to key"},
            {"person": "P5", "evidence": "the roster gives Person 5 (P5) no number to key"},
        ],
    ),
    "a number of two, punched at two readers": (
        "shared_number",
        {
            "people": [*called("1111", "4821"), {"number": " 4821 ", "name": "Ana Ruiz"}, *called(None, None)],
            "punches": [*keyed("4821", TUE, THU), *keyed("4821", MON, reader="Hill"), *keyed("7777", MON - 9)],
            "readers": [{}, HILL],
        },
        [
            {
                "person": "P1",
                "number": "4821",
                "other": "P2",
                "punches": 3,
                "first_at": MON,
                "last_at": THU,
                "evidence": "the roster gives 4821 to Person 1 (P1) and to Ana Ruiz (P2)",
            }
        ],
    ),
    "a number of two that nobody has punched; one of them is yet to come": (
        "shared_number",
        {"people": [{"number": "4821"}, {"number": "4821", "hired_on": TOMORROW}]},
        [
            {
                "person": "P0",
                "number": "4821",
                "other": "P1",
                "evidence": "the roster gives 4821 to Person 0 (P0) and to Person 1 (P1)",
            }
        ],
    ),
    "a number handed on is one person's": (
        "shared_number",
        {"people": [{"number": "4821", "left_on": YESTERDAY}, {"number": "4821"}]},
        [],
    ),
    "a number too long for a reader where the person may come": (
        "too_long",
        {
            "people": [
                {"number": "12345"},
                {"number": "123456", "site": None},
                {"number": "1234"},
                {"number": "54321", "left_on": YESTERDAY},
                {"number": None},
            ],
            "readers": [{"max_digits": 4}, EAST | {"max_digits": 5}, HILL | {"max_digits": 4}, {"reader": "West"}],
        },
        [
            {
                "reader": reader,
                "person": person,
                "number": number,
                "evidence": f"{number} has {digits} digits and {reader} accepts {most}",
            }
            for reader, person, number, digits, most in (
                ("East", "P1", "123456", 6, 5),
                ("Hill", "P1", "123456", 6, 4),
                ("North", "P0", "12345", 5, 4),
                ("North", "P1", "123456", 6, 4),
            )
        ],
    ),
    "where no reader says how many digits it takes no number is too long": (
        "too_long",
        {"people": called("1234567890")},
        [],
    ),
    "on none of the readers of the site, though on one elsewhere": (
        "not_enrolled",
        {
            "people": [*called("1111", "2222"), {"number": "3333", "site": None}, {"number": "4444", "site": "Attic"}],
            "enrolments": [{"number": "2222", "reader": "Hill"}],
            "readers": [{}, EAST, HILL],
        },
        [
            {
                "person": "P0",
                "number": "1111",
                "evidence": "1111 is on none of the readers of site Mill (East, North)",
            },
            {
                "person": "P1",
                "number": "2222",
                "evidence": "2222 is on none of the readers of site Mill (East, North)",
            },
            {
                "person": "P2",
                "number": "3333",
                "evidence": "3333 is on none of the readers of any site (East, Hill, North)",
            },
            {
                "person": "P3",
                "number": "4444",
                "evidence": "site Attic has no reader on which 4444 could be enrolled",
            },
        ],
    ),
    "on a reader that is not listed, which is at no site": (
        "not_enrolled",
        {
            "people": [{"number": "1111"}, {"number": "2222", "site": None}],
            "enrolments": [{"number": number, "reader": "Attic"} for number in ("1111", "2222")],
        },
        [{"person": "P0", "number": "1111", "evidence": "1111 is on none of the readers of site Mill (North)"}],
    ),
    "without any reader": (
        "not_enrolled",
        {"people": [{"number": "1111", "site": None}], "readers": []},
        [{"person": "P0", "number": "1111", "evidence": "no site has a reader on which 1111 could be enrolled"}],
    ),
    "whoever has left or is yet to come need not be; whose hand is under a shared or a wrong number is; "
    "whose number another's hand is under is not": (
        "not_enrolled",
        {
            "people": [
                {"number": "1111", "left_on": YESTERDAY},
                {"number": "2222", "hired_on": TOMORROW},
                *called("3333", "3333"),
                {"number": "4821", "name": "Ana Ruiz"},
                {"number": "5555", "name": "Ben Okafor"},
                {"number": "6666", "name": "Cy Marlow"},
            ],
            "enrolments": [
                {"number": "3333"},
                {"number": "9876", "name": "Ana Ruiz"},
                {"number": "6666", "name": "Ben Okafor"},
            ],
        },
        [{"person": "P6", "number": "6666", "evidence": "6666 is on none of the readers of site Mill (North)"}],
    ),
}

# ---- enrolments

ENROLMENTS = {
    "the name beside a number nobody holds": (
        "wrong_number",
        {
            "people": [{"number": "4821", "name": "Ana Ruiz"}],
            "enrolments": [{"number": "7360", "name": "RUIZ ANA"}],
            "punches": keyed("7360", MON, MON + 60),
        },
        [
            {
                "reader": "North",
                "person": "P0",
                "number": "7360",
                "other": "4821",
                "punches": 2,
                "first_at": MON,
                "last_at": MON + 60,
                "evidence": "7360 at North is the hand of Ana Ruiz (P0), whose number is 4821: "
                "the reader holds the name 'RUIZ ANA' beside 7360; 2 punches on 2026-03-02",
            }
        ],
    ),
    "a slip, and no punch": (
        "wrong_number",
        {"people": called("4821"), "enrolments": [{"number": "4281", "name": ""}]},
        [
            {
                "reader": "North",
                "person": "P0",
                "number": "4281",
                "other": "4821",
                "evidence": "4281 at North is the hand of Person 0 (P0), whose number is 4821: "
                "4281 is 4821 with two digits swapped",
            }
        ],
    ),
    "the end of a telephone number, a number in the street, beside one word of the name": (
        "wrong_number",
        {
            "people": [
                {"number": "4821", "name": "Ana Ruiz", "phone": "555-010-6390"},
                {"number": "1357", "name": "Ben Okafor", "address": "2604 Quay Street"},
            ],
            "enrolments": [{"number": "6390", "name": "Eva Ruiz"}, {"number": "2604"}],
        },
        [
            {
                "reader": "North",
                "person": "P0",
                "number": "6390",
                "other": "4821",
                "evidence": "6390 at North is the hand of Ana Ruiz (P0), whose number is 4821: "
                "6390 is the end of their telephone number",
            },
            {
                "reader": "North",
                "person": "P1",
                "number": "2604",
                "other": "1357",
                "evidence": "2604 at North is the hand of Ben Okafor (P1), whose number is 1357: "
                "2604 is a number in their street address",
            },
        ],
    ),
    "zeros that the reader lost, and zeros that the roster lost": (
        "lost_zeros",
        {"people": called("0821", "7360"), "enrolments": [{"number": "821"}, {"number": "007360"}]},
        [
            {
                "reader": "North",
                "person": "P0",
                "number": "821",
                "other": "0821",
                "evidence": "821 at North is the hand of Person 0 (P0), whose number is 0821: "
                "821 is 0821 without the zeros in front",
            },
            {
                "reader": "North",
                "person": "P1",
                "number": "007360",
                "other": "7360",
                "evidence": "007360 at North is the hand of Person 1 (P1), whose number is 7360: "
                "007360 is 7360 with zeros in front",
            },
        ],
    ),
    "zeros that the reader lost, beside the name": (
        "lost_zeros",
        {
            "people": [{"number": "0821", "name": "Ana Ruiz"}],
            "enrolments": [{"number": "821", "name": "Ana Ruiz"}],
            "punches": keyed("821", MON),
        },
        [
            {
                "reader": "North",
                "person": "P0",
                "number": "821",
                "other": "0821",
                "punches": 1,
                "first_at": MON,
                "last_at": MON,
                "evidence": "821 at North is the hand of Ana Ruiz (P0), whose number is 0821: "
                "the reader holds the name 'Ana Ruiz' beside 821; 1 punch on 2026-03-02",
            }
        ],
    ),
    "somebody who left, punched since": (
        "leaver_enrolled",
        {
            "people": [{"number": "1111", "left_on": date(2026, 2, 27)}, {"number": "2222", "left_on": TODAY}],
            "enrolments": [{"number": "1111"}, {"number": "2222"}],
            "punches": keyed("1111", MON, THU),
        },
        [
            {
                "reader": "North",
                "person": "P0",
                "number": "1111",
                "punches": 2,
                "first_at": MON,
                "last_at": THU,
                "evidence": "1111 is still enrolled at North; Person 0 (P0), who held it, left on 2026-02-27; "
                "2 punches from 2026-03-02 to 2026-03-05",
            }
        ],
    ),
    "the last who left with the number": (
        "leaver_enrolled",
        {
            "people": [{"number": "1111", "left_on": date(2025, 5, 2)}, {"number": "1111", "left_on": YESTERDAY}],
            "enrolments": [{"number": "1111"}],
        },
        [
            {
                "reader": "North",
                "person": "P1",
                "number": "1111",
                "evidence": "1111 is still enrolled at North; Person 1 (P1), who held it, left on 2026-03-08",
            }
        ],
    ),
    "another's name beside a number that somebody holds": (
        "shared_number",
        {
            "people": [{"number": "3333", "name": "Cy Marlow"}, {"number": "4444", "name": "Dora Lindqvist"}],
            "enrolments": [{"number": "3333", "name": "DORA LIND"}],
            "punches": keyed("3333", TUE),
        },
        [
            {
                "reader": "North",
                "person": "P1",
                "number": "3333",
                "other": "P0",
                "punches": 1,
                "first_at": TUE,
                "last_at": TUE,
                "evidence": "at North the reader holds the name 'DORA LIND' beside 3333, and the roster gives 3333 to "
                "Cy Marlow (P0); 1 punch on 2026-03-03",
            }
        ],
    ),
    "a name nobody bears, no name, an empty one": (
        "unknown_enrolment",
        {
            "people": called("1111"),
            "enrolments": [
                {"number": "8642", "name": "Lenka Dvorak"},
                {"number": "9753"},
                {"number": "9990", "name": ""},
            ],
            "punches": keyed("9753", MON, reader="East"),
            "readers": [{}, EAST],
        },
        [
            {
                "reader": "North",
                "number": "8642",
                "evidence": "8642 is enrolled at North with the name 'Lenka Dvorak', and nobody on the roster holds it",
            },
            *(
                {
                    "reader": "North",
                    "number": number,
                    "evidence": f"{number} is enrolled at North, and nobody on the roster holds it",
                }
                for number in ("9753", "9990")
            ),
        ],
    ),
    "a name of two, who could both have slipped, and punches at a reader that is not listed": (
        "unknown_enrolment",
        {
            "people": called("4821", "4823", name="Ana Ruiz"),
            "enrolments": [{"number": "4822", "name": "Ana Ruiz", "reader": "Attic"}],
            "punches": keyed("4822", MON, reader="Attic"),
        },
        [
            {
                "reader": "Attic",
                "number": "4822",
                "punches": 1,
                "first_at": MON,
                "last_at": MON,
                "evidence": "4822 is enrolled at Attic with the name 'Ana Ruiz', and nobody on the roster holds it; "
                "it could be Ana Ruiz (P0), as 4822 is 4821 with one digit mistyped; "
                "Ana Ruiz (P1), as 4822 is 4823 with one digit mistyped; "
                "1 punch at times that cannot be placed, because the reader is not listed",
            }
        ],
    ),
    "four who could be meant": (
        "unknown_enrolment",
        {"people": called("4821", "4822", "4823", "4824"), "enrolments": [{"number": "4820"}]},
        [
            {
                "reader": "North",
                "number": "4820",
                "evidence": "4820 is enrolled at North, and nobody on the roster holds it; it could be "
                "Person 0 (P0), as 4820 is 4821 with one digit mistyped; "
                "Person 1 (P1), as 4820 is 4822 with one digit mistyped; "
                "Person 2 (P2), as 4820 is 4823 with one digit mistyped; "
                "Person 3 (P3), as 4820 is 4824 with one digit mistyped",
            }
        ],
    ),
    "who works elsewhere, has left or is yet to come did not mean a number": (
        "unknown_enrolment",
        {
            "people": [
                {"number": "4821", "site": "Quarry"},
                {"number": "4823", "left_on": YESTERDAY},
                {"number": "4824", "hired_on": TOMORROW},
            ],
            "enrolments": [{"number": "4822"}],
        },
        [
            {
                "reader": "North",
                "number": "4822",
                "evidence": "4822 is enrolled at North, and nobody on the roster holds it",
            }
        ],
    ),
    "a hand that was refused proves nothing, nor does another reader": (
        "unproved",
        {
            "people": called("1111", "2222", "3333"),
            "enrolments": [*called("1111", "2222", "3333"), {"number": "1111", "reader": "East"}],
            "punches": [
                *keyed("1111", MON),
                *keyed("2222", MON, outcome="refused"),
                *keyed("3333", MON, reader="Hill"),
            ],
            "readers": [{}, EAST, HILL],
        },
        [
            {
                "reader": "East",
                "person": "P0",
                "number": "1111",
                "evidence": "no hand has been accepted under 1111 at East in the logs looked at; "
                "no punch of that reader has been taken yet",
            },
            *(
                {
                    "reader": "North",
                    "person": person,
                    "number": number,
                    "evidence": f"no hand has been accepted under {number} at North in the logs looked at; "
                    "its log holds other numbers",
                }
                for person, number in (("P1", "2222"), ("P2", "3333"))
            ),
        ],
    ),
}

# ---- readers


def supervisors(*numbers, **more):
    return called(*numbers, is_supervisor=True, **more)


def those(count):
    return ", ".join(f"Person {at} (P{at})" for at in range(count))


def few(lists, standing, could, reader="North", site="Mill"):
    return {
        "reader": reader,
        "evidence": f"{reader} lists {lists}; supervisors enrolled with authority: {standing}; "
        f"supervisors on the roster of site {site}: {could}",
    }


SEVEN = ("1111", "2222", "3333", "4444", "5555", "6666", "7777")
SILENT = "nobody, as its list does not say who may enrol others"
READERS = {
    "a reader that lists nothing": (
        "few_supervisors",
        {"people": called("1111")},
        [few("0 numbers", "nobody", "nobody")],
    ),
    "one of two": (
        "few_supervisors",
        {"people": supervisors("1111", "2222"), "enrolments": supervisors("1111")},
        [few("1 number", "1111 Person 0 (P0)", those(2))],
    ),
    "two are enough": (
        "few_supervisors",
        {"people": supervisors("1111", "2222"), "enrolments": supervisors("1111", "2222")},
        [],
    ),
    "two of whom the reader lets one": (
        "few_supervisors",
        {
            "people": supervisors("1111", "2222"),
            "enrolments": [*supervisors("1111"), *called("2222", is_supervisor=False)],
        },
        [few("2 numbers", "1111 Person 0 (P0)", those(2))],
    ),
    "two of whom the roster names one": (
        "few_supervisors",
        {
            "people": [*supervisors("1111"), *called("2222", is_supervisor=False)],
            "enrolments": supervisors("1111", "2222"),
        },
        [
            few(
                "2 numbers",
                "1111 Person 0 (P0); with authority on its list but not counted: "
                "2222 (Person 1 (P1) is no supervisor on the roster)",
                "Person 0 (P0)",
            )
        ],
    ),
    "a roster that names none takes whom the reader lets": (
        "few_supervisors",
        {
            "people": called("1111", "2222"),
            "enrolments": [*supervisors("1111", "2222"), *supervisors("2222", reader="East")],
            "readers": [{}, EAST],
        },
        [few("1 number", "2222 Person 1 (P1)", "nobody", reader="East")],
    ),
    "a list that does not say": (
        "few_supervisors",
        {"people": supervisors("1111"), "enrolments": called("1111", "2222")},
        [few("2 numbers", SILENT, "Person 0 (P0)")],
    ),
    "only the able can be enrolled: here, at the site, with a number of their own": (
        "few_supervisors",
        {
            "people": [
                *supervisors("1111"),
                *supervisors("2222", site="Quarry"),
                *supervisors("3333", site=None),
                *supervisors("4444", left_on=YESTERDAY),
                *supervisors("5555", hired_on=TOMORROW),
                *supervisors("6666"),
                *called("6666"),
                *supervisors(None),
            ],
            "readers": [{}, HILL],
        },
        [
            few("0 numbers", "nobody", "Person 1 (P1), Person 2 (P2)", reader="Hill", site="Quarry"),
            few("0 numbers", "nobody", "Person 0 (P0), Person 2 (P2)"),
        ],
    ),
    "six who can be named": (
        "few_supervisors",
        {"people": supervisors(*SEVEN[:6])},
        [few("0 numbers", "nobody", those(6))],
    ),
    "one more than can be named": (
        "few_supervisors",
        {"people": supervisors(*SEVEN)},
        [few("0 numbers", "nobody", f"{those(6)} and 1 more")],
    ),
    "authority that the roster has not, and none that it has; null is none on either": (
        "supervisor_mismatch",
        {
            "people": [
                *supervisors("1111", "2222", "3333"),
                *called("4444", is_supervisor=False),
                *called("5555", "6666"),
            ],
            "enrolments": [
                *supervisors("1111"),
                *called("2222", is_supervisor=False),
                *called("3333"),
                *supervisors("4444", "5555"),
                *called("6666", is_supervisor=False),
                # one list that does not say, and one of a reader that is not listed
                *called("1111", reader="East"),
                *supervisors("4444", reader="Attic"),
            ],
            "readers": [{}, EAST],
        },
        [
            {
                "reader": "North",
                "person": person,
                "number": number,
                "evidence": f"Person {person[1]} ({person}) is {is_one} on the roster "
                f"but enrolled at North under {number} {may} authority to enrol others",
            }
            for person, number, is_one, may in (
                ("P1", "2222", "a supervisor", "without"),
                ("P2", "3333", "a supervisor", "without"),
                ("P3", "4444", "no supervisor", "with"),
                ("P4", "5555", "no supervisor", "with"),
            )
        ],
    ),
    "a roster that names no supervisors contradicts none": (
        "supervisor_mismatch",
        {"people": called("1111"), "enrolments": supervisors("1111")},
        [],
    ),
    "nine of ten and ten of ten are nearly full, eight are not": (
        "near_capacity",
        {
            "enrolments": [
                {"reader": reader, "number": str(1000 + at)}
                for reader, count in (("East", 8), ("Hill", 9), ("North", 10), ("West", 50))
                for at in range(count)
            ],
            "readers": [
                {"capacity": 10},
                EAST | {"capacity": 10},
                HILL | {"capacity": 10},
                {"reader": "West"},
                {"reader": "Yard", "capacity": 1},
            ],
        },
        [
            {"reader": "Hill", "evidence": "Hill holds 10 hands and 9 are enrolled"},
            {"reader": "North", "evidence": "North holds 10 hands and 10 are enrolled"},
        ],
    ),
}

# ---- punches


def stray(number, why, *, reader="North", when="1 punch on 2026-03-02", count=1, last=MON, person=None):
    return {
        "reader": reader,
        "person": person,
        "number": number,
        "punches": count,
        "first_at": MON,
        "last_at": last,
        "evidence": f"{reader} accepted {when} under {number}, {why}",
    }


PUNCHES = {
    "nobody's, at two readers and on two days": (
        "unattributed_punches",
        {
            "punches": [
                *keyed("7777", THU, MON),
                *keyed("7777", MON, reader="East"),
                *keyed("7777", 0, outcome="refused"),
            ],
            "readers": [{}, EAST],
        },
        [
            stray("7777", "which nobody on the roster holds", reader="East"),
            stray(
                "7777",
                "which nobody on the roster holds",
                when="2 punches from 2026-03-02 to 2026-03-05",
                count=2,
                last=THU,
            ),
        ],
    ),
    "of two, and of three": (
        "unattributed_punches",
        {
            "people": called("1111", "1111", "2222", "2222", "2222"),
            "punches": [*keyed("1111", MON), *keyed("2222", MON)],
        },
        [stray("1111", "which 2 people hold"), stray("2222", "which 3 people hold")],
    ),
    "of people not employed that day": (
        "unattributed_punches",
        {
            "people": [
                {"number": "1111", "left_on": date(2026, 3, 1)},
                {"number": "2222", "hired_on": date(2026, 3, 4), "name": "Ana Ruiz"},
                {"number": "3333", "hired_on": date(2020, 1, 7), "left_on": date(2026, 2, 27)},
                {"number": "4444", "left_on": date(2025, 3, 1)},
                {"number": "4444", "hired_on": date(2025, 3, 2), "left_on": date(2025, 9, 30)},
            ],
            "punches": [one for number in ("1111", "2222", "3333", "4444") for one in keyed(number, MON)],
        },
        [
            stray("1111", "held by Person 0 (P0), employed from the beginning to 2026-03-01"),
            stray("2222", "held by Ana Ruiz (P1), employed from 2026-03-04 to today"),
            stray("3333", "held by Person 2 (P2), employed from 2020-01-07 to 2026-02-27"),
            stray("4444", "held by Person 4 (P4), employed from 2025-03-02 to 2025-09-30"),
        ],
    ),
    "each on the day that it was by the reader's own clock": (
        "unattributed_punches",
        {
            "punches": [
                *keyed("7777", instant("2026-03-03T00:30")),
                *keyed("7777", instant("2026-03-03T00:30"), reader="Hill"),
            ],
            "readers": [{}, HILL | {"zone": "America/Denver"}],
        },
        [
            stray("7777", "which nobody on the roster holds", reader=reader, when=f"1 punch on {day}")
            | {"first_at": instant("2026-03-03T00:30"), "last_at": instant("2026-03-03T00:30")}
            for reader, day in (("Hill", "2026-03-02"), ("North", "2026-03-03"))
        ],
    ),
    "from a reader that is not listed": (
        "unattributed_punches",
        {"people": called("1111"), "punches": keyed("1111", MON, reader="Attic")},
        [
            stray(
                "1111",
                "held by Person 0 (P0), employed from the beginning to today",
                reader="Attic",
                when="1 punch at times that cannot be placed, because the reader is not listed",
            )
        ],
    ),
    "under a number that is enrolled for a hand that is known": (
        "unattributed_punches",
        {
            "people": [*called("0821"), {"number": "4821", "name": "Ana Ruiz"}],
            "enrolments": [{"number": "821"}, {"number": "7360", "name": "Ana Ruiz"}, {"number": "9753"}],
            "punches": [one for number in ("821", "7360", "9753") for one in keyed(number, MON)],
        },
        [
            stray("821", "which nobody on the roster holds", person="P0"),
            stray("7360", "which nobody on the roster holds", person="P1"),
            stray("9753", "which nobody on the roster holds"),
        ],
    ),
    "without the zeros of the one whose number it can be": (
        "lost_zeros",
        {
            "people": [
                *called("0821", "00417", "0417", "055", "55", "0066"),
                {"number": "0900", "left_on": YESTERDAY},
                {"number": "0901", "hired_on": TOMORROW},
            ],
            # 66 stands in the reader's own list, where it is told of as an enrolment
            "enrolments": [{"number": "66"}, {"number": "821", "reader": "East"}],
            "punches": [
                *keyed("821", MON, THU),
                *(one for number in ("417", "55", "66", "900", "901") for one in keyed(number, MON)),
            ],
            "readers": [{}, EAST],
        },
        [
            {
                "reader": "East",
                "person": "P0",
                "number": "821",
                "other": "0821",
                "evidence": "821 at East is the hand of Person 0 (P0), whose number is 0821: "
                "821 is 0821 without the zeros in front",
            },
            {
                "reader": "North",
                "person": "P0",
                "number": "821",
                "other": "0821",
                "punches": 2,
                "first_at": MON,
                "last_at": THU,
                "evidence": "North logs 821; but for zeros in front this is 0821, the number of Person 0 (P0); "
                "2 punches from 2026-03-02 to 2026-03-05",
            },
            {
                "reader": "North",
                "person": "P5",
                "number": "66",
                "other": "0066",
                "punches": 1,
                "first_at": MON,
                "last_at": MON,
                "evidence": "66 at North is the hand of Person 5 (P5), whose number is 0066: "
                "66 is 0066 without the zeros in front; 1 punch on 2026-03-02",
            },
        ],
    ),
}


def cases():
    for kinds in (ROSTER, ENROLMENTS, READERS, PUNCHES):
        for name, case in kinds.items():
            yield pytest.param(*case, id=f"{case[0]}: {name}")


@pytest.mark.parametrize(("kind", "place", "rows"), list(cases()))
def test_each_discrepancy_is_found_with_all_its_columns_and_its_evidence(kind, place, rows):
    assert_found(kind, place, rows)


def test_discrepancies_stand_by_kind_reader_person_number_and_other_and_what_is_empty_last():
    place = {
        "people": [*called("4821", "4821", "4821"), {"number": "123456", "site": None}, *called("55555")],
        "enrolments": [{"number": "9753", "reader": "East"}, {"number": "9753"}, {"number": "9750"}],
        "punches": [one for number in ("9999", "7777") for one in keyed(number, MON)],
        "readers": [{"max_digits": 4}, EAST | {"max_digits": 5}],
    }
    found = compared(**place).select("kind", "reader", "person", "number", "other").rows()
    assert found == sorted(found, key=lambda row: [row[0], *((value is None, value or "") for value in row[1:])])
    assert {(kind, reader) for kind, reader, *_ in found} >= {
        ("too_long", "East"),
        ("too_long", "North"),
        ("unknown_enrolment", "East"),
        ("shared_number", None),
    }
