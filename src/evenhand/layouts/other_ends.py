"""Days on a roster that end something else than employment: probation, a badge, a contract that may be renewed.

Who has left is paid no more hours, so that such a day is asked about before it is read as that of leaving. The end of
a contract is one of leaving where few have one and none is still to come. Source: common practice, no source; the words
are those of the languages.
"""

from __future__ import annotations

from datetime import date

from evenhand.layouts.asking import answer_of, label_of, samples_of
from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.matching import Matching
from evenhand.layouts.proposal import NO_COLUMN, Choice, Question
from evenhand.layouts.values.dates import EPOCH
from evenhand.layouts.values.words import word_set
from evenhand.layouts.wording.lexicon import words_of
from evenhand.terms.languages import of_file, told

__all__ = ["about_other_ends"]

SHORTEST_PART = 5  # letters of a word with which a compound may begin: Probezeitende, badgevervaldatum
FEW = 0.3  # of the rows, those that may have left

OF_ELSE = word_set(
    # en
    "probation,probationary,trial,review,appraisal,evaluation,expiry,expires,expiration,expiring,renewal,validity,"
    "valid,permit,visa,licence,license,certificate,training,warranty,badge,card,pass,medical,"
    # es
    "prueba,revision,evaluacion,caducidad,caduca,vencimiento,vence,vigencia,validez,renovacion,permiso,tarjeta,"
    # de
    "probe,probezeit,probezeitende,ablauf,ablaufdatum,lauft,gultig,gueltig,gultigkeit,gueltigkeit,verlangerung,"
    "verlaengerung,ausweis,karte,uberprufung,ueberpruefung,beurteilung,mitarbeitergesprach,erlaubnis,"
    # fr
    "essai,revue,entretien,expiration,expire,echeance,validite,valable,renouvellement,carte,permis,titre,"
    # pt
    "experiencia,estagio,avaliacao,revisao,validade,valido,expira,renovacao,cartao,cracha,licenca,"
    # it
    "prova,revisione,valutazione,scadenza,scade,validita,valido,rinnovo,tessera,permesso,patente,"
    # nl
    "proef,proeftijd,beoordeling,verloopt,verloop,vervaldatum,vervalt,geldig,geldigheid,verlenging,pas,vergunning,"
    # pl
    "probny,probna,probnego,okres,przeglad,ocena,oceny,waznosc,waznosci,wazna,wazny,wazne,wygasa,wygasniecie,"
    "przedluzenie,legitymacja,karta,karty,badania,badan,zezwolenie,szkolenie"
)
OF_CONTRACT = word_set(
    "contract,agreement,contrato,vertrag,vertrags,befristet,befristung,contrat,contratto,overeenkomst,umowa,umowy"
)


def about_other_ends(name: str, matching: Matching, today: date | None) -> list[Question]:
    """Return the question about a day of leaving whose header says that it ends something else, unless it was told."""
    declared = "left_on"
    sources = matching.best.columns.get(declared, ())
    if declared in matching.fixed or len(sources) != 1:
        return []
    column = matching.seen[sources[0]]
    if not _says(column.header, OF_ELSE) and not (_says(column.header, OF_CONTRACT) and _may_go_on(column, today)):
        return []
    asks = of_file(
        name,
        told(
            "is {column} ({samples}) the day on which people left?",
            column=label_of(column),
            samples=samples_of(column),
        ),
    )
    choices = (
        Choice(
            declared,
            told("{column} is the last day of employment: nobody works there after it", column=label_of(column)),
        ),
        Choice(NO_COLUMN, told("it is the end of something else, such as probation or a badge, and is not read")),
    )
    return [Question("column", asks, choices, answer_of(column, matching.seen))]


def _says(header: str, known: frozenset[str]) -> bool:
    """Return whether a word of a header is one of these, or a compound that begins with one."""
    long = tuple(one for one in known if len(one) >= SHORTEST_PART)
    return any(word in known or word.startswith(long) for word in words_of(header))


def _may_go_on(column: ColumnSeen, today: date | None) -> bool:
    """Return whether more rows have such a day than people leave, or some are still to come."""
    days = [day for day in column.profile.days if day is not None]
    is_to_come = today is not None and any(day + EPOCH > today.toordinal() for day in days)
    return column.profile.filled > FEW or is_to_come
