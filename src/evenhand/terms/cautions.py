"""The cautions that stand beside hours, pay, scores and legal dates: one wording each, everywhere."""

from __future__ import annotations

from evenhand.terms.languages import sentence

__all__ = ["CALCULATION", "HANDS", "OF_FORECASTS", "OF_HANDOFF", "SCORES", "SIGNED", "STATEMENT", "UNTAXED"]

CALCULATION = sentence("A calculation aid, not legal advice: local codes, agreements and licensed counsel decide.")

OF_HANDOFF = (
    f"{CALCULATION} Hours are computed under the rules named in the settings; leave, holidays and pay without hours "
    "are not in them."
)

UNTAXED = sentence(
    "Taxes and deductions are not in it. Asking about pay is protected, in the United States by 29 USC 215(a)(3); it "
    "is also how errors of readers, rules and lists are found."
)
STATEMENT = f"{CALCULATION} {UNTAXED}"

SIGNED = sentence(
    "A confirmation waives nothing: what is owed stays owed, in the United States by Brooklyn Savings Bank v. O'Neil, "
    "324 U.S. 697 (1945), and is due on its day whether anybody signs or disputes or not, in California by Labor Code "
    "206 and 206.5. Other places have laws of their own."
)

SCORES = sentence("Scores tell of hands and readers, never of conduct.")

OF_FORECASTS = sentence(
    "Forecasts and causes are proposals: a person confirms. Another way to clock is always offered."
)
HANDS = f"{SCORES} {OF_FORECASTS}"
