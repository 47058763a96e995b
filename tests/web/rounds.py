"""A round for the pages: five items at one reader of the mill, one at another."""

from __future__ import annotations

from datetime import date

from evenhand.store.rounds import add_round
from evenhand.store.written import add_row
from evenhand.terms.rounds import ROUND_ITEMS
from tests.web.conftest import MILL_AS_OF, Served

NAME, READER = "2026-03-09-1", "MILL-1"
SIGNED = {
    "action": "agree",
    "said_on": "2026-03-05",
    "how": "paper",
    "author": "Ida",
    "made_at": int(MILL_AS_OF.timestamp()) - 86_400,
}
PLACE = f"/rounds/{NAME}/{READER}"
PEOPLE = (
    ("enrol_supervisor", "4101", "Tess Marrow", "en"),
    ("enrol", "4102", "Bram Ostler", "en"),
    ("enrol", "0083214406", "Lía <b>Quill</b>", "es"),
    ("enrol_again", "4104", "Joss Fenn", "en"),
    ("remove", "9999", None, "en"),
)


def add_mill_round(served: Served) -> None:
    """Keep the round in the workspace behind `served`."""
    items = ROUND_ITEMS.rows(
        {
            "item": f"{NAME}-{n}",
            "round": NAME,
            "reader": READER,
            "position": n,
            "starts_at": None if action == "remove" else int(MILL_AS_OF.timestamp()) + 1200 * n,
            "action": action,
            "number": number,
            "person": f"P{n}",
            "name": name,
            "language": language,
            "stands": "Tess Marrow" if n in (2, 3) else "Bram Ostler" if n == 4 else None,
        }
        for n, (action, number, name, language) in enumerate(PEOPLE, start=1)
    )
    header = {
        "round": NAME,
        "title": "New gate",
        "day": date(2026, 3, 9),
        "asked": "{}",
        "author": "Ida",
        "made_at": int(MILL_AS_OF.timestamp()),
    }
    with served.workspace.store.writing() as conn:
        add_round(conn, header, items)
        for n in range(1, len(PEOPLE)):  # each of them signed a form some days before
            add_row(conn, "consent_decisions", SIGNED | {"person": f"P{n}"})
