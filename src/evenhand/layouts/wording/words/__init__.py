"""The words of which headers are made, by what they mean and by language, in eight languages.

A meaning is named here by an English word of our own; `concepts` says what meanings make together. For each language
(en, es, de, fr, pt, it, nl, pl) stand whole words and usual abbreviations, sorted; plurals, cases, compounds and words
cut short need no entry. Umlauts may also be written as ae, oe, ue. The words for day, month and hour are those of
Unicode CLDR (units duration-day, duration-month, duration-hour); all others are common practice, no source.
"""

from __future__ import annotations

from evenhand.layouts.wording.words.clocking import OF_CLOCKING
from evenhand.layouts.wording.words.consent import OF_CONSENT
from evenhand.layouts.wording.words.names import OF_NAMES
from evenhand.layouts.wording.words.numbers import OF_NUMBERS
from evenhand.layouts.wording.words.others import OF_OTHERS
from evenhand.layouts.wording.words.pay import OF_PAY
from evenhand.layouts.wording.words.places import OF_PLACES
from evenhand.layouts.wording.words.private import OF_PRIVATE
from evenhand.layouts.wording.words.standing import OF_STANDING
from evenhand.layouts.wording.words.times import OF_TIMES

__all__ = ["MEANINGS", "SILENT"]

# Words that part others and mean nothing by themselves, unless the header has no other.
SILENT = (
    "a aan agli ai al all alla alle allo am an ao aos as at au auf aux bei beim by com compris con czy d da dall "
    "dalle dallo dans das de degli del dell della delle dello den der des di die dla do dos du e een ein eine "
    "einer eines einschl einschliesslich el em en es est et for her het his i ihres il im incl incluida incluido "
    "inclus inclusief inclusive inkl into is ist its jest l la las le les lo local los met na naar nad nas nei "
    "nel nell nella no nos o oder of om on onto op or our par para pela pelo per pod por pour przez przy s sa se "
    "seines si sich sie sin sobre sono sta su sull sur sus te that the their this u um uma un una und une uno "
    "usual van vom voor w we with wlacznie y z za ze zu zum zur"
)

MEANINGS: dict[str, dict[str, str]] = {
    **OF_NUMBERS,
    **OF_NAMES,
    **OF_STANDING,
    **OF_PLACES,
    **OF_TIMES,
    **OF_CLOCKING,
    **OF_CONSENT,
    **OF_PAY,
    **OF_PRIVATE,
    **OF_OTHERS,
}
