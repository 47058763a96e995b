"""Pages of the desk in Spanish: as a whole, by choice or by the workplace's setting."""

from __future__ import annotations

import pytest

from evenhand.store.settings import read_settings
from tests.untranslated import language_of, left_in_english
from tests.web.conftest import Served

PAGES = [
    # (workplace, address), room by room
    ("mill", "/missing?supervisor=P1"),
    ("twin", "/missing"),
    ("twin", "/enrolment"),
    ("mill", "/enrolment/plan?look=yes&day=2026-03-10"),
    ("mill", "/enrolment/queue?reader=MILL-1"),
    ("mill", "/settings/columns?do=look&was=&header=1&field=name&text="),
    ("twin", "/rounds"),
    ("mill", "/rounds/queues/MILL-1"),
    ("mill", "/rounds/steps"),
    ("twin", "/teaching"),
    ("mill", "/teaching/P1"),
    ("mill", "/practice/P1?own=yes"),
    ("mill", "/consent/people/P1"),
    ("twin", "/consent/new-policy"),
    ("mill", "/files"),
    ("mill", "/files/waiting"),
    ("mill", "/files/takes/1"),
    ("mill", "/files/takes/1/back"),
    ("mill", "/files/takes/1/again"),
    ("twin", "/files"),
    ("twin", "/files/takes/2/back"),
    ("twin", "/strays"),
    ("twin", "/strays/above?at=0.9"),
    ("twin", "/strays/TB-DOCK~2F2438"),
    ("twin", "/strays/TB-DOCK~2F2438/confirm?person=K5252"),
    ("mill", "/settings/change?table=policy&look=yes&repeat_seconds=often"),
    ("mill", "/settings"),
    ("mill", "/settings/change?table=policy&look=yes&repeat_seconds=90"),
    ("mill", "/settings/change?table=workplace"),
    ("mill", "/settings/change?table=site&site=Mill"),
    ("mill", "/settings/site/Mill"),
    ("mill", "/settings/number?file=rules/california/daily.toml&name=daily_limit"),
    ("mill", "/settings/text"),
    ("twin", "/leavers"),
    ("mill", "/retention"),
    ("twin", "/readers"),
    ("mill", "/readers/MILL-1"),
    ("twin", "/readers/TB-DOCK"),
    ("twin", "/ledger"),
    ("mill", "/hours"),
    ("twin", "/hours"),
    ("mill", "/hours/P2"),
    ("mill", "/hours/P2/2026-03-02"),
    ("mill", "/hand-off"),
    ("twin", "/hand-off"),
    ("mill", "/rounding"),
    ("twin", "/rounding"),
    ("mill", "/signoff"),
    ("twin", "/signoff"),
    ("twin", "/ledger/0"),
    ("twin", "/ledger/decisions"),
    ("mill", "/"),
    ("twin", "/"),
    ("twin", "/settled"),
    ("mill", "/find?q=nobody"),
    ("twin", "/find?q=gate"),
    ("mill", "/people"),
    ("twin", "/people"),
    ("mill", "/people/P1"),
    ("mill", "/people/P2"),
    ("mill", "/numbers"),
    ("twin", "/numbers"),
    ("mill", "/glossary"),
    ("mill", "/numbers/4102"),
    ("mill", "/change-number?person=P2&number=004102"),
    ("twin", "/moving-numbers"),
    ("mill", "/together"),
    ("twin", "/together"),
    ("twin", "/together/strays?stray=TB-DOCK/2438"),
    ("mill", "/hands"),
    ("twin", "/hands"),
    ("twin", "/hands?q=a&sort=name"),
    ("mill", "/hands/person/P1"),
    ("mill", "/hands/threshold"),
]
KNOWN = {
    # what the file for payroll calls its columns
    "/hand-off": ("Ordinary hours", "Overtime hours", "Double-time hours"),
    # what a file calls its own columns
    "/strays/TB-DOCK~2F2438": ("Bits",),
    "/glossary": ("ISO/IEC 2382-37", "ISO/IEC 19795-1", "Fellegi, Sunter (1969)"),
    "/files/takes/1/again": ("reader", "site", "place", "zone", "max digits", "capacity"),
}
IN_SETTINGS = (
    # values and files as they are written, and laws and places as they call themselves
    *("adjust", "told", "move", "often", "--as-of", "evenhand.toml"),
    *("ISO 3166", "Cal. Labor Code", "IWC wage orders 4 and 5, section", "AAC", "Alaska", "California", "Colorado"),
    "Nevada",
)

ALIKE = ("PDF",)
"""What a file is called in either language."""


@pytest.mark.parametrize(("workplace", "address"), PAGES)
def test_a_page_says_nothing_in_english_where_spanish_was_chosen(
    workplace: str, address: str, request: pytest.FixtureRequest
) -> None:
    served: Served = request.getfixturevalue(workplace)
    known = IN_SETTINGS if address.startswith("/settings") else KNOWN.get(address, ())
    with served.enter() as client:
        assert left_in_english(served, client, address, (*ALIKE, *known)) == set()


def test_the_desk_speaks_the_language_of_the_settings_until_another_is_chosen(mill: Served) -> None:
    file = mill.workspace.settings_file
    kept = file.read_text(encoding="utf-8")
    named = kept.replace("[workplace]\n", '[workplace]\nlanguage = "es"\n')
    try:
        file.write_text(named, encoding="utf-8")
        assert read_settings(file).language == "es"
        with mill.enter() as client:
            assert language_of(client.get("/missing").text) == "es"
            refused = client.get("/people/nobody")
            assert (refused.status_code, language_of(refused.text)) == (404, "es")
            assert language_of(client.get("/missing", headers={"accept-language": "en"}).text) == "es"
            assert language_of(client.get("/missing?speak=en").text) == "en"
            assert language_of(client.get("/missing").text) == "en"
    finally:
        file.write_text(kept, encoding="utf-8")
