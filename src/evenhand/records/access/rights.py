"""What a person is told beside their data: the elements of GDPR art. 15, and rights to the like elsewhere.

The wording is of whoever runs the workplace to complete; a calculation aid, not legal advice.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenhand.terms.languages import sentence

__all__ = ["RIGHTS", "Right"]


@dataclass(frozen=True)
class Right:
    """One element, with where it is asked for."""

    title: str
    cites: str
    says: str


RIGHTS = (
    Right(
        sentence("Why the data are kept"),
        sentence("GDPR art. 15(1)(a)"),
        sentence(
            "To pay for time worked and to show why (in the United States 29 CFR 516.2). To keep each person under "
            "one number on roster and readers, and to see whether readers and enrolments still work. No score "
            "decides anything about a person."
        ),
    ),
    Right(
        sentence("Which kinds of data"),
        sentence("GDPR art. 15(1)(b)"),
        sentence(
            "Those of the parts above: roster, numbers, enrolments, presentations with dissimilarity scores, "
            "schedules, hours, pay, consent, decisions and disputes. No hand, no image and no biometric reference "
            "is in evenhand; readers hold those themselves. Scores come of hands, and are kept under the same "
            "clock."
        ),
    ),
    Right(
        sentence("Who receives them"),
        sentence("GDPR art. 15(1)(c)"),
        sentence(
            "Payroll, by the files listed under what was handed off. evenhand sends nothing anywhere by itself. The"
            " workplace adds whoever else receives data from it."
        ),
    ),
    Right(
        sentence("How long they are kept"),
        sentence("GDPR art. 15(1)(d)"),
        sentence(
            "As the workplace's retention schedule says. What tells of the hand goes when its purpose or a law ends "
            "it. Time and pay records stay as long as wage law wants them (in the United States at least 29 CFR "
            "516.5 and 516.6)."
        ),
    ),
    Right(
        sentence("To have it corrected, erased or restricted, and to object"),
        sentence("GDPR art. 15(1)(e), 16 to 18, 21"),
        sentence(
            "Say what is wrong on your statement or at the desk. It is kept as a dispute and answered within one "
            "month. Two more are allowed at most, if you are told why within the first (art. 12(3))."
        ),
    ),
    Right(
        sentence("To complain"),
        sentence("GDPR art. 15(1)(f), 77"),
        sentence(
            "To the supervisory authority of the place where you live or work. In the United States wage complaints"
            " go to the Wage and Hour Division or the state's labor office; nobody may be punished for one (29 USC "
            "215(a)(3))."
        ),
    ),
    Right(
        sentence("Where they come from"),
        sentence("GDPR art. 15(1)(g)"),
        sentence("Each row names the file and the take it came with; what has none was decided or said in evenhand."),
    ),
    Right(
        sentence("Whether a machine decides"),
        sentence("GDPR art. 15(1)(h), 22"),
        sentence(
            "No. Hours follow from punches and rules that are named beside them; whose a punch is, and what a hand "
            "shows, is only proposed, and a person decides."
        ),
    ),
    Right(
        sentence("Why there are blanks"),
        sentence("GDPR art. 15(4); Court of Justice of the European Union, C-579/21, Pankki S, 22 June 2023"),
        sentence(
            "Whatever names somebody else is left out, and so are the names of those who decided for the workplace:"
            " their part is told instead. Where a name is essential to use your rights, ask for it."
        ),
    ),
)
