"""Headers whose own words turn round what their cells say: refused, under which a yes is a no; likeness, not distance.

Source: common practice, no source; the words are those of the languages.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from evenhand.layouts.values.words import WORDS, YES_NO, plain, word_set
from evenhand.layouts.wording.lexicon import words_of
from evenhand.layouts.wording.words import MEANINGS

__all__ = ["is_likeness", "sense_of_outcome"]

# What a header calls the refusal of a punch, beside the words for it that stand in cells.
REFUSALS = word_set(
    "error,not ok,decline,denial,no access,no aceptado,error de lectura,denegacion,ablehnung,zuruckweisung,"
    "verweigerung,zuruckgewiesen,nicht ok,refuse,erreur,erro,errore,rejeicao,afwijzing,weigering,niet ok,odrzut,"
    "odrzucenie,nie ok"
)
# What says that something was amiss, and not whether the hand was refused for it.
AMISS = word_set(
    "alarm,alert,warning,exception,fault,anomaly,violation,problem,alarma,alerta,aviso,incidencia,anomalia,alarme,"
    "alerte,anomalie,defaut,warnung,storung,stoerung,auffallig,allarme,avviso,waarschuwing,storing,afwijkend,ostrzezenie,"
    "wyjatek,awaria"
)
NEGATIONS = word_set("not,no,non,nicht,nao,niet,nie,pas,kein,keine,un,never,without,ohne,sin,sans,sem,senza,zonder,bez")
UNLIKE = (
    "dis",
    "dese",
    "dess",
    "un",
    "nie",
    "mis",
    "onge",
    "abst",
    "abw",
    "afst",
    "afw",
    "odl",
    "dif",
)  # how words for a distance begin
SHORTEST_CUT, SHORTEST_STEM = 3, 5  # letters of a word cut short, and of one that may be inflected

OF_A_MATCH = frozenset({"match", "trefferwert"})

# What grows where hands are more alike.
LIKENESS = word_set(
    # en
    "similarity,similar,likeness,closeness,confidence,certainty,quality,sureness,accuracy,agreement,"
    # es
    "semejanza,similitud,coincidencia,parecido,confianza,certeza,calidad,concordancia,"
    # de
    "ahnlichkeit,aehnlichkeit,ubereinstimmung,uebereinstimmung,gute,guete,qualitat,qualitaet,konfidenz,sicherheit,"
    "vertrauen,trefferquote,deckung,"
    # fr
    "ressemblance,similitude,similarite,concordance,correspondance,confiance,certitude,qualite,"
    # pt
    "semelhanca,similaridade,coincidencia,correspondencia,confianca,certeza,qualidade,concordancia,"
    # it
    "somiglianza,similarita,corrispondenza,confidenza,certezza,qualita,concordanza,affidabilita,"
    # nl
    "gelijkenis,overeenkomst,overeenstemming,vertrouwen,zekerheid,kwaliteit,betrouwbaarheid,"
    # pl
    "podobienstwo,podobienstwa,zgodnosc,zgodnosci,pewnosc,pewnosci,jakosc,jakosci,dopasowanie,dopasowania,ufnosc,"
    "ufnosci,trafnosc,trafnosci"
)


def sense_of_outcome(header: str) -> str:
    """Return what a yes says under the header of an outcome: "accepted", "refused", or '' where that cannot be told."""
    words = plain(" ".join(words_of(header))).split()
    refused, rest = _taken(words, _known("refused"))
    accepted, rest = _taken(rest, _known("accepted"))
    if not refused:
        is_open = not AMISS.isdisjoint(words) or any(map(_is_cut_refusal, rest))
        return "" if is_open else "accepted"
    is_negated = any(word in NEGATIONS and rest[at + 1] is None for at, word in enumerate(rest[:-1]))
    return "" if accepted or is_negated else "refused"


def is_likeness(header: str, is_near_top: bool = True) -> bool:
    """Return whether a header speaks of how alike hands are, so that more is better, where a score is a distance.

    A score or value of a match may be either; it is that of likeness where `is_near_top`: the cells are near the top of
    a scale that ends at 1 or 100.
    """
    words = words_of(header)
    if any(word.startswith(UNLIKE) for word in words):
        return False
    if not OF_A_MATCH.isdisjoint(words) and not any(_is_one(word, LIKENESS) for word in words):
        return is_near_top or words == ("match",)
    return any(_is_one(word, LIKENESS) or _holds_likeness(word) for word in words)


def _taken(words: Sequence[str | None], known: frozenset[str]) -> tuple[bool, list[str | None]]:
    """Return whether some of the words are known, the longest rows first, and the words with None for each of those."""
    is_found, rest = False, list(words)
    for size in range(3, 0, -1):
        for at in range(len(rest) - size + 1):
            row = rest[at : at + size]
            if None in row:
                continue
            said = " ".join(word for word in row if word)
            if said in known or (size == 1 and _is_one(said, known)):
                rest[at : at + size] = [None] * size
                is_found = True
    return is_found, rest


def _is_one(word: str, known: frozenset[str]) -> bool:
    """Return whether a word is one of these, perhaps inflected or compounded behind."""
    return word in known or any(word.startswith(one) for one in known if len(one) >= SHORTEST_STEM)


def _holds_likeness(word: str) -> bool:
    """Return whether a compound ends in a word for likeness: Handähnlichkeit."""
    return any(word.endswith(one) for one in LIKENESS if len(one) > SHORTEST_STEM)


def _is_cut_refusal(word: str | None) -> bool:
    """Return whether a word cut short is the beginning of one for a refusal and of no other word of an outcome."""
    if not word or len(word) < SHORTEST_CUT:
        return False
    others = _known("accepted") | _neutral()
    return any(one.startswith(word) for one in _known("refused")) and not any(one.startswith(word) for one in others)


@cache
def _known(meaning: str) -> frozenset[str]:
    """Return the words for an outcome that are no mere yes or no."""
    words = {word for word, meant in WORDS["outcome"].items() if meant == meaning and word not in YES_NO}
    return frozenset(word for word in (words | REFUSALS if meaning == "refused" else words) if len(word) > 1)


@cache
def _neutral() -> frozenset[str]:
    listed = (words for by_language in (MEANINGS["outcome"], MEANINGS["status"]) for words in by_language.values())
    words = frozenset(plain(word) for one in listed for word in one.split(", "))
    return frozenset(word for word in words if word not in _known("refused"))
