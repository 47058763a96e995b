"""Names of months and of days of the week in English, Spanish, German, French, Portuguese, Italian, Dutch and Polish.

Source: Unicode CLDR (wide and abbreviated names, in dates and alone), and some abbreviations that people use besides.
Names stand here as `unaccented` writes them.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

__all__ = ["MONTHS", "WEEKDAY_NAMES", "unaccented"]

MONTHS = {
    word: month
    for month, words in enumerate(
        (
            "january jan enero ene januar jaenner janner januari janvier janv janeiro gennaio gen styczen stycznia sty",
            "february feb febrero februar fevrier fevr fev fevereiro febbraio februari luty lutego lut",
            "march mar marzo marz maerz mrz mars marco maart mrt marzec marca",
            "april apr abril abr avril avr aprile kwiecien kwietnia kwi",
            "may mayo mai maio maggio mag mei maj maja",
            "june jun junio juni juin junho giugno giu czerwiec czerwca cze",
            "july jul julio juli juillet juil julho luglio lug lipiec lipca lip",
            "august aug agosto ago aout aou augustus sierpien sierpnia sie",
            "september sep sept septiembre setiembre septembre setembro set settembre wrzesien wrzesnia wrz",
            "october oct octubre oktober okt octobre outubro out ottobre ott pazdziernik pazdziernika paz",
            "november nov noviembre novembre novembro listopad listopada lis",
            "december dec diciembre dic dezember dez decembre dezembro dicembre grudzien grudnia gru",
        ),
        start=1,
    )
    for word in words.split()
}

# Monday is 0; None for what is another day in another of the languages ("ma": maandag, mardi).
WEEKDAY_NAMES: dict[str, int | None] = {
    **{
        word: day
        for day, words in enumerate(
            (
                "monday mon lunes lun lu montag mo lundi segunda segunda-feira seg lunedi maandag poniedzialek pon",
                "tuesday tue tues tu martes dienstag mardi terca terca-feira ter martedi dinsdag wtorek wt wto",
                "wednesday wed we miercoles mie mittwoch mi mercredi me mer quarta quarta-feira qua mercoledi woensdag"
                " wo sroda sr sro",
                "thursday thu thur thurs th jueves jue ju donnerstag jeudi jeu je quinta quinta-feira qui giovedi gio"
                " donderdag czwartek czw",
                "friday fri fr viernes vie vi freitag vendredi ven ve sexta sexta-feira sex venerdi vrijdag vr piatek"
                " pt pia",
                "saturday sat sa sabado sab samstag sonnabend samedi sam sabato zaterdag za sobota sob",
                "sunday sun su domingo dom sonntag so dimanche dim domenica zondag zo niedziela niedz nie",
            )
        )
        for word in words.split()
    },
    "ma": None,
    "di": None,
    "do": None,
    "mar": 1,
}

# What has no plain form in Unicode, and other strokes for a hyphen: a true minus sign may stand before an offset.
LETTERS = str.maketrans({"ł": "l", "ß": "ss", "\u2019": "'", "\u2212": "-", "\u2011": "-"})


@lru_cache(maxsize=1 << 14)
def unaccented(text: str) -> str:
    """Return the text in small letters without accents, spaces in a row as one."""
    if not text.isascii():
        apart = unicodedata.normalize("NFKD", text.lower().translate(LETTERS))
        text = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return " ".join(text.lower().split())
