"""The part of the corpus that the reading of files may be improved against."""

from __future__ import annotations

from bench.corpus.kit import Kit, load
from bench.corpus.strangers import STRANGERS

__all__ = ["TRAINING", "words_of"]

STYLES = ("full", "abbreviated", "code")


def words_of(listed: dict[str, dict[str, str]]) -> dict[str, dict[str, dict[str, list[str]]]]:
    """Return headers by language, concept and style from `full words / abbreviations / codes`."""
    found: dict[str, dict[str, dict[str, list[str]]]] = {}
    for language, concepts in listed.items():
        found[language] = {}
        for concept, entry in concepts.items():
            sorts = [part.split(", ") for part in entry.split(" / ")]
            sorts += [sorts[-1]] * (3 - len(sorts))
            found[language][concept] = dict(zip(STYLES, sorts, strict=True))
    return found


_DOTS = (("DD.MM.YYYY", 0.7), ("YYYY-MM-DD", 0.16), ("D.M.YYYY", 0.06), ("DD.MM.YY", 0.08))
_SLASHES = (("DD/MM/YYYY", 0.74), ("YYYY-MM-DD", 0.16), ("D/M/YYYY", 0.04), ("DD/MM/YY", 0.06))
_DAY_CLOCK = (("{HH}:{mm}:{ss}", 0.5), ("{HH}:{mm}", 0.4), ("{H}:{mm}", 0.1))

TRAINING = Kit(
    name="training",
    words=words_of(load("words.toml")),
    workplaces=load("workplaces.toml"),
    dates={
        "us": (("MM/DD/YYYY", 0.5), ("M/D/YYYY", 0.2), ("YYYY-MM-DD", 0.2), ("M/D/YY", 0.05), ("MM/DD/YY", 0.05)),
        "uk": _SLASHES,
        "es": _SLASHES,
        "de": _DOTS,
        "at": _DOTS,
        "fr": _SLASHES,
        "pt": (("DD/MM/YYYY", 0.5), ("DD-MM-YYYY", 0.24), ("YYYY-MM-DD", 0.2), ("DD/MM/YY", 0.06)),
        "br": _SLASHES,
        "it": _SLASHES,
        "nl": (("DD-MM-YYYY", 0.66), ("D-M-YYYY", 0.12), ("YYYY-MM-DD", 0.16), ("DD-MM-YY", 0.06)),
        "pl": (("DD.MM.YYYY", 0.5), ("YYYY-MM-DD", 0.4), ("DD-MM-YYYY", 0.1)),
        "mx": _SLASHES,
        "mixed": (("YYYY-MM-DD", 0.7), ("DD MMM YYYY", 0.2), ("DD/MM/YYYY", 0.1)),
    },
    odd_dates=(
        ("YYYYMMDD", 3),
        ("DDMMYY", 1),
        ("DDMMYYYY", 1),
        ("MMDDYY", 0.5),
        ("YYMMDD", 0.7),
        ("DDMMMYY", 0.7),
        ("DD-MMM-YYYY", 1.5),
        ("DD-MMM-YY", 1),
        ("D MMM YYYY", 1),
        ("D MMMM YYYY", 1),
        ("MMM D YYYY", 0.5),
        ("MMMM D, YYYY", 0.5),
        ("D. MMMM YYYY", 0.5),
        ("YYYY/MM/DD", 1.5),
        ("YYYY.MM.DD", 0.6),
        ("DD MM YYYY", 0.5),
        ("DD/MM/YY", 1),
        ("DD.MM.YY", 1),
        ("MM-DD-YYYY", 0.7),
        ("M-D-YY", 0.3),
        ("YY-MM-DD", 0.5),
        ("DD/MM/YYYY", 0.6),
        ("MM/DD/YYYY", 0.4),
    ),
    times={
        "us": (("{h}:{mm} {AP}", 0.3), ("{hh}:{mm}:{ss} {AP}", 0.2), ("{HH}:{mm}", 0.2), ("{HH}:{mm}:{ss}", 0.3)),
        "uk": _DAY_CLOCK,
        "es": _DAY_CLOCK,
        "de": _DAY_CLOCK,
        "at": _DAY_CLOCK,
        "fr": (*_DAY_CLOCK, ("{HH}h{mm}", 0.12)),
        "pt": _DAY_CLOCK,
        "br": _DAY_CLOCK,
        "it": _DAY_CLOCK,
        "nl": _DAY_CLOCK,
        "pl": _DAY_CLOCK,
        "mx": (*_DAY_CLOCK, ("{hh}:{mm} {pt}", 0.15)),
        "mixed": _DAY_CLOCK,
    },
    odd_times=(
        ("{HH}{mm}", 2),
        ("{HH}{mm}{ss}", 2),
        ("{HH}.{mm}", 1.5),
        ("{HH}.{mm}.{ss}", 1),
        ("{h}:{mm}{ap}", 1),
        ("{h}:{mm}{p}", 0.5),
        ("{hh}:{mm}:{ss} {AP}", 1),
        ("{hh}:{mm} {pt}", 1),
        ("{hh}:{mm} {sp}", 0.6),
        ("{HH}h{mm}", 1),
        ("{H}h{mm}", 0.5),
        ("{HH}:{mm}:{ss}.000", 0.7),
    ),
    directions={
        "en": (("IN", "OUT"), ("In", "Out"), ("in", "out"), ("Entry", "Exit"), ("Clock In", "Clock Out")),
        "es": (("Entrada", "Salida"), ("ENTRADA", "SALIDA"), ("Ent", "Sal")),
        "de": (("Kommen", "Gehen"), ("Ein", "Aus"), ("Eingang", "Ausgang"), ("kommt", "geht")),
        "fr": (("Entrée", "Sortie"), ("ENTREE", "SORTIE"), ("Arrivée", "Départ")),
        "pt": (("Entrada", "Saída"), ("ENTRADA", "SAIDA")),
        "it": (("Entrata", "Uscita"), ("ENTRATA", "USCITA"), ("Ingresso", "Uscita")),
        "nl": (("In", "Uit"), ("Komen", "Gaan"), ("IN", "UIT")),
        "pl": (("Wejście", "Wyjście"), ("WEJSCIE", "WYJSCIE"), ("We", "Wy")),
    },
    codes=(
        (("0", "1"), 4),
        (("I", "O"), 4),
        (("E", "S"), 2),
        (("1", "2"), 1),
        (("1", "0"), 1),
        (("E", "A"), 1),
        (("K", "G"), 1),
    ),
    answers={
        "en": (("Yes", "No"), ("Y", "N"), ("TRUE", "FALSE"), ("yes", "")),
        "es": (("Sí", "No"), ("SI", "NO"), ("S", "N")),
        "de": (("Ja", "Nein"), ("J", "N"), ("ja", "nein"), ("wahr", "falsch")),
        "fr": (("Oui", "Non"), ("O", "N"), ("VRAI", "FAUX")),
        "pt": (("Sim", "Não"), ("S", "N")),
        "it": (("Sì", "No"), ("S", "N"), ("VERO", "FALSO")),
        "nl": (("Ja", "Nee"), ("J", "N")),
        "pl": (("Tak", "Nie"), ("T", "N")),
    },
    roles={
        "en": (("S", "E"), ("Supervisor", "Employee"), ("Team lead", "Worker")),
        "es": (("Supervisor", "Empleado"), ("Encargado", "Operario")),
        "de": (("Vorgesetzter", "Mitarbeiter"), ("Vorarbeiter", "Arbeiter")),
        "fr": (("Superviseur", "Salarié"), ("Chef d'équipe", "Ouvrier")),
        "pt": (("Supervisor", "Funcionário"), ("Encarregado", "Operador")),
        "it": (("Supervisore", "Dipendente"), ("Capo", "Operaio")),
        "nl": (("Leidinggevende", "Medewerker"),),
        "pl": (("Kierownik", "Pracownik"),),
    },
    outcomes={
        "en": (("accepted", "refused"), ("Accepted", "Rejected"), ("OK", "Denied"), ("Granted", "Denied")),
        "es": (("Aceptado", "Rechazado"), ("Permitido", "Denegado")),
        "de": (("angenommen", "abgelehnt"), ("Erkannt", "Abgewiesen")),
        "fr": (("Accepté", "Refusé"),),
        "pt": (("Aceite", "Recusado"), ("Aceito", "Rejeitado")),
        "it": (("Accettato", "Rifiutato"),),
        "nl": (("Geaccepteerd", "Geweigerd"), ("Aanvaard", "Afgewezen")),
        "pl": (("Przyjęto", "Odrzucono"), ("Zaakceptowano", "Odrzucono")),
    },
    titles={
        "en": ("Printed 5 October 2026 by payroll", "Confidential", "List for the works office", "Page 1"),
        "es": ("Listado del departamento de personal", "Confidencial", "Impreso el 5 de octubre de 2026"),
        "de": ("Auswertung Personalabteilung", "Stand: 05.10.2026", "Vertraulich"),
        "fr": ("Édité par le service du personnel", "Confidentiel", "Arrêté au 5 octobre 2026"),
        "pt": ("Listagem do departamento de pessoal", "Confidencial", "Emitido em 5 de outubro de 2026"),
        "it": ("Elenco ufficio personale", "Riservato", "Stampato il 5 ottobre 2026"),
        "nl": ("Lijst personeelszaken", "Vertrouwelijk", "Afgedrukt op 5 oktober 2026"),
        "pl": ("Zestawienie działu kadr", "Poufne", "Wydrukowano 5 października 2026"),
    },
    totals={
        "en": ("Total: {count}", "{count} records", "End of report"),
        "es": ("Total: {count}", "{count} registros"),
        "de": ("Summe: {count}", "Anzahl: {count}", "Ende der Liste"),
        "fr": ("Total : {count}", "{count} lignes"),
        "pt": ("Total: {count}", "{count} registos"),
        "it": ("Totale: {count}", "{count} righe"),
        "nl": ("Totaal: {count}", "{count} regels"),
        "pl": ("Razem: {count}", "Liczba: {count}"),
    },
    file_names={
        "en": {
            "people": ("employees", "roster", "staff list"),
            "readers": ("readers", "devices"),
            "enrolments": ("enrolled", "users on readers", "export"),
            "punches": ("punches", "transactions", "log", "export"),
            "schedules": ("shifts", "schedule"),
            "consent": ("consents", "signed forms"),
            "rates": ("rates", "pay rates"),
        },
        "es": {
            "people": ("empleados", "plantilla"),
            "readers": ("lectores", "terminales"),
            "enrolments": ("registrados", "huellas de mano"),
            "punches": ("fichajes", "marcajes", "exportacion"),
            "schedules": ("turnos", "cuadrante"),
            "consent": ("consentimientos",),
            "rates": ("tarifas",),
        },
        "de": {
            "people": ("Mitarbeiter", "Stammdaten"),
            "readers": ("Leser", "Terminals"),
            "enrolments": ("Erfasste", "Ausweise am Leser"),
            "punches": ("Buchungen", "Stempelungen", "Export"),
            "schedules": ("Dienstplan", "Schichten"),
            "consent": ("Einwilligungen",),
            "rates": ("Stundenlöhne",),
        },
        "fr": {
            "people": ("salaries", "personnel"),
            "readers": ("lecteurs",),
            "enrolments": ("enregistres", "badges par lecteur"),
            "punches": ("pointages", "passages", "export"),
            "schedules": ("planning", "postes"),
            "consent": ("consentements",),
            "rates": ("taux",),
        },
        "pt": {
            "people": ("funcionarios", "colaboradores"),
            "readers": ("leitores",),
            "enrolments": ("cadastrados", "registados"),
            "punches": ("marcacoes", "ponto", "exportacao"),
            "schedules": ("escala", "turnos"),
            "consent": ("consentimentos",),
            "rates": ("valores hora",),
        },
        "it": {
            "people": ("dipendenti", "anagrafica"),
            "readers": ("lettori",),
            "enrolments": ("registrati", "tessere"),
            "punches": ("timbrature", "passaggi", "export"),
            "schedules": ("turni",),
            "consent": ("consensi",),
            "rates": ("tariffe",),
        },
        "nl": {
            "people": ("medewerkers", "personeel"),
            "readers": ("lezers",),
            "enrolments": ("geregistreerd", "passen"),
            "punches": ("kloktijden", "boekingen", "export"),
            "schedules": ("rooster", "diensten"),
            "consent": ("toestemmingen",),
            "rates": ("uurlonen",),
        },
        "pl": {
            "people": ("pracownicy", "kadry"),
            "readers": ("czytniki",),
            "enrolments": ("zarejestrowani", "karty"),
            "punches": ("zdarzenia", "odbicia", "eksport"),
            "schedules": ("grafik", "zmiany"),
            "consent": ("zgody",),
            "rates": ("stawki",),
        },
    },
    strangers=STRANGERS,
)
