"""The paper that is usual where a workplace's clocks are."""

import pytest

from evenhand.terms.papers import usual_paper


# Source: Unicode CLDR 46, supplementalData, measurementData: US-Letter in BZ CA CL CO CR GT MX NI PA PH PR SV US VE,
# A4 elsewhere (001); the places of zones as the IANA time zone database's zone.tab has them.
@pytest.mark.parametrize(
    ("zone", "paper"),
    [
        ("America/Chicago", "letter"),
        ("US/Central", "letter"),  # an earlier name of the same zone
        ("America/Kentucky/Louisville", "letter"),
        ("Pacific/Honolulu", "letter"),
        ("America/Toronto", "letter"),
        ("America/Mexico_City", "letter"),
        ("America/Puerto_Rico", "letter"),
        ("America/Bogota", "letter"),
        ("Asia/Manila", "letter"),
        ("America/Sao_Paulo", "a4"),
        ("America/Lima", "a4"),
        ("Europe/Madrid", "a4"),
        ("Europe/London", "a4"),
        ("Asia/Tokyo", "a4"),
        ("UTC", "a4"),
    ],
)
def test_letter_is_usual_where_cldr_says_so_and_a4_elsewhere(zone: str, paper: str) -> None:
    assert usual_paper(zone) == paper
