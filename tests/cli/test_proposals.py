"""What answers a question of a file on the command line names every answer of a few, and puts none first."""

import pytest

from evenhand.cli.proposals import how_to_answer
from evenhand.layouts.proposal import Choice, Question


def asked(about: str, *answers: str, subject: str = "") -> str:
    return how_to_answer(Question(about, "What?", tuple(Choice(one, "") for one in answers), subject))


@pytest.mark.parametrize(
    ("said", "options"),
    [
        (
            asked("words", "accepted", "refused", "none", subject="Denied - score"),
            '--word "Denied - score=accepted" or --word "Denied - score=refused" or --word "Denied - score=none"',
        ),
        (
            asked("column", "site", "left_on", "none", subject="Austritt"),
            '--map "Austritt=site" or --map "Austritt=left_on" or --ignore "Austritt"',
        ),
        (asked("column", "none", subject="Zgoda"), '--ignore "Zgoda"'),
        (asked("field", "ID", "Wert", subject="number"), '--map "ID=number" or --map "Wert=number"'),
        (asked("dates", "dmy", "mdy"), "--dates dmy or --dates mdy"),
        (
            asked("reader", "A", "B", "C", "D", "E"),
            "--reader A or --reader B or --reader C or --reader D or --reader ...",
        ),
        (asked("zone"), "--zone ZONE"),
    ],
)
def test_the_options_that_answer_a_question_name_all_of_a_few_answers(said: str, options: str) -> None:
    assert said == options
