"""What the name of a file says about the table in it: common practice, no source."""

from __future__ import annotations

from functools import cache, lru_cache

from evenhand.layouts.wording.header import words_of

__all__ = ["tables_named"]

FILE_WORDS = {
    "people": (
        "addetti anagrafica anagrafiche angestellte annuaire arbeitnehmer associate associates bedienstete "
        "belegschaft beschaeftigte beschaftigte bezetting colaboradores collaborateurs collaboratori colleagues "
        "collega crew dipendente dipendenti directorio effectif effectifs empleado empleados employe employee "
        "employees employes empregado empregados funcionario funcionarios headcount headcounts kadra kadry "
        "kollegen labour lavoratori medewerkers medewerkerslijst members mitarbeiter mitarbeiterliste "
        "mitarbeiterstamm nomina organico osoby padron people personal personalbestand personale personalliste "
        "personalstamm personas personeel personeelslijst personel personen personnel personnes persons pessoas "
        "plantel plantilla pracownicy pracownik quadro roster salarie salaries staff staffing stafflist "
        "stammdaten team teams trabajador trabajadores trabalhadores werknemer werknemers workers workforce "
        "zaloga zatrudnieni"
    ),
    "readers": (
        "aparatos aparelhos apparaten apparecchi appareils bornes clocks coletores czytnik czytniki device "
        "devices dispositivi dispositivos equipos geraet geraete handleser hardware horodateurs klokken lecteur "
        "lecteurs lector lectores leitor leitores lesegeraete leser lettore lettori lezer lezers marcadores "
        "marcatempo orologi pointeuses prikklokken reader readers rejestratory relogio relogios reloj relojes "
        "rilevatori scanners station stationen stations stempeluhren terminais terminal terminale terminales "
        "terminali terminals terminaux timeclocks toestellen uhren urzadzenia zegar zegary"
    ),
    "enrolments": (
        "aangemeld acquisiti angelernt angelernte aufgenommene cadastrados cadastro dlonie eingelernt eingelernte "
        "enregistrements enrolados enrolamiento enrolement enroles enrolled enrollment enrollments enrolment "
        "enrolments erfasste erfassungen haende handen hands huellas ingeleerd ingeleerden ingeschreven "
        "inschrijvingen inscricoes inscripciones inscriptions inscritos inscrits iscritti iscrizioni mains mani "
        "manos maos registados registered registrados registrati registrations registrierte rejestracje templates "
        "users wpisani zarejestrowane zarejestrowani"
    ),
    "punches": (
        "accesos asistencia attendance badgeage badgeages batida batidas bewegungen boeking boekingen bollature "
        "buchung buchungen checadas clocking clockings dziennik ereignisse evenements eventi events fichaje "
        "fichajes gebeurtenissen journal klokkingen klokregistraties kloktijden kommtgeht log logs marcacao "
        "marcacion marcaciones marcacoes marcas mouvements movimenti movimentos movimientos odbicia odbicie "
        "passages passaggi picadas picagens pointage pointages ponto prikkingen protokoll przejscia punch punches "
        "rcp registos registratie registraties registros ruch stamps stempel stempelungen stempelzeiten swipe "
        "swipes timbratura timbrature transactions zdarzenia zdarzenie zeitbuchungen zeiten"
    ),
    "schedules": (
        "cuadrante dienst dienste diensten dienstplaene dienstplan dniowki duties duty dyzury einsaetze "
        "einsatzplan escala escalas giornate grafik grafiki harmonogram horaire horaires horario horarios "
        "jornadas orari planificacion planned planning plannings plans planung postes quarts rooster roosters "
        "roster rosters rota rotas schedule schedules schicht schichten schichtplan shift shifts timetable turni "
        "turno turnos vacations werkdagen werkrooster zmiana zmiany"
    ),
    "consent": (
        "acceptances acceptations accettazioni accord accords aceite aceites aceptaciones adesione adesioni "
        "agreement agreements akceptacja akceptacje akkoord akkoorden autorizaciones autorizacoes consensi "
        "consenso consent consented consentement consentements consentimento consentimentos consentimiento "
        "consentimientos consents einverstaendnis einwilligung einwilligungen erklaerungen instemming "
        "oswiadczenia toestemming toestemmingen zgoda zgody zustimmung zustimmungen"
    ),
    "rates": (
        "compensi hourly jornales loehne lohn lohnsaetze lohnsatz lonen loon paga paghe pay payrate payrates rate "
        "rates remuneracoes remuneration remunerations retribuzioni salaire salaires salaries salario salarios "
        "stawka stawki stundenloehne stundenlohn stundensaetze sueldos tarief tarieven tarifa tarifas tariffa "
        "tariffe taux taxa taxas uurlonen uurloon valores verguetung wage wages wynagrodzenia"
    ),
    "earnings": (
        "bonos bonus bonuses bonussen comisiones comissoes commissies commissions devengo devengos dodatki "
        "earning earnings extras gratifications incentives incentivi incentivos pieces praemie praemien premi "
        "premia premie premies premio premios primas primes provisionen provvigioni prowizje stuecklohn toeslagen "
        "zulage zulagen"
    ),
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
