"""What the name of a file says about the table in it: common practice, no source."""

from __future__ import annotations

from functools import cache, lru_cache

from evenhand.layouts.wording.header import words_of

__all__ = ["tables_named"]

FILE_WORDS = {
    "people": "roster people staff employees employee personnel workforce headcount plantilla empleados personal "
    "trabajadores mitarbeiter personalliste mitarbeiterliste belegschaft stammdaten employes salaries effectif "
    "personnes funcionarios colaboradores empregados dipendenti anagrafica personale medewerkers personeel "
    "werknemers pracownicy",
    "readers": "readers devices terminals lectores dispositivos leser lesegeraete geraete lecteurs appareils "
    "leitores lettori dispositivi lezers apparaten czytniki urzadzenia",
    "enrolments": "enrolled enrolments enrollments enrolment enrollment inscritos inscripciones angelernt "
    "registrierte inscrits iscritti iscrizioni ingeschreven zarejestrowani cadastrados registados "
    "erfasste registrati huellas",
    "punches": "punches punch log logs clockings events swipes marcaciones fichajes registros buchungen "
    "stempelungen stempel pointages badgeages marcacoes batidas ponto timbrature klokkingen boekingen "
    "registraties odbicia zdarzenia",
    "schedules": "schedule schedules shifts shift rota turnos horarios dienstplan schichtplan schichten planning "
    "horaires postes escala escalas turni rooster roosters diensten grafik zmiany",
    "consent": "consent consents consentimiento consentimientos einwilligung einwilligungen consentement "
    "consentements consentimento consentimentos consenso consensi toestemming toestemmingen zgoda zgody",
    "rates": "rates wages payrates tarifas salarios lohnsaetze stundenloehne taux salaires taxas tariffe paghe "
    "tarieven lonen stawki",
    "earnings": "earnings bonus bonuses commissions primas devengos praemien zulagen primes premios premi premies "
    "premie",
}


@cache
def _tables() -> dict[str, set[str]]:
    tables: dict[str, set[str]] = {}
    for table, words in FILE_WORDS.items():
        for word in words.split():
            tables.setdefault(word, set()).add(table)
    return tables


@lru_cache(maxsize=1024)
def tables_named(name: str) -> frozenset[str]:
    """Return the tables that the words of a file's or sheet's name stand for."""
    return frozenset(table for word in words_of(name) for table in _tables().get(word, ()))
