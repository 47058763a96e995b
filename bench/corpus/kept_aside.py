"""The part of the corpus that is looked at once, at the end: other words, places, habits and strangers."""

from __future__ import annotations

from typing import Any

from bench.corpus.kept_strangers import STRANGERS
from bench.corpus.kit import Kit, load
from bench.corpus.training import words_of

__all__ = ["KEPT_ASIDE"]

_LISTED = words_of(load("kept_words.toml"))
_MARK = "?"
"""What stands behind a header in the list of which a careful clerk would not be sure."""


def _plain(listed: Any) -> Any:
    """Return the same headers without their marks."""
    if isinstance(listed, dict):
        return {key: _plain(value) for key, value in listed.items()}
    return [word.removesuffix(_MARK) for word in listed]


_CODES = (
    (("I", "O"), 4),
    (("0", "1"), 3),
    (("1", "2"), 1.5),
    (("E", "S"), 1.5),
    (("+", "-"), 0.6),
    (("A", "D"), 0.6),
    (("K", "G"), 0.6),
    (("B", "E"), 0.6),
)
_DOTS = (("DD.MM.YYYY", 0.66), ("D.M.YYYY", 0.08), ("YYYY-MM-DD", 0.16), ("DD.MM.YY", 0.1))
_SLASHES = (("DD/MM/YYYY", 0.7), ("D/M/YYYY", 0.06), ("YYYY-MM-DD", 0.14), ("DD/MM/YY", 0.1))
_CLOCK = (("{HH}:{mm}", 0.5), ("{HH}:{mm}:{ss}", 0.4), ("{H}:{mm}", 0.1))

KEPT_ASIDE = Kit(
    name="kept-aside 20261126",
    words=_plain(_LISTED),
    doubtful=frozenset(
        (language, concept, word.removesuffix(_MARK))
        for language, concepts in _LISTED.items()
        for concept, styles in concepts.items()
        for words in styles.values()
        for word in words
        if word.endswith(_MARK)
    )
    | {("", *pair) for pair, _ in _CODES if pair not in {("I", "O"), ("0", "1")}},
    workplaces=load("kept_workplaces.toml"),
    dates={
        "us2": (
            ("MM/DD/YYYY", 0.44),
            ("M/D/YYYY", 0.2),
            ("MM-DD-YYYY", 0.08),
            ("M/D/YY", 0.08),
            ("YYYY-MM-DD", 0.14),
            ("MMM D, YYYY", 0.06),
        ),
        "nz": (*_SLASHES, ("D MMM YY", 0.06)),
        "sg": (("DD/MM/YYYY", 0.5), ("DD-MMM-YYYY", 0.15), ("DD MMM YYYY", 0.1), ("YYYY-MM-DD", 0.25)),
        "li": _DOTS,
        "de2": _DOTS,
        "fr2": (*_SLASHES, ("DD.MM.YYYY", 0.05)),
        "sn": (("DD/MM/YYYY", 0.6), ("DD-MM-YYYY", 0.2), ("YYYY-MM-DD", 0.2)),
        "co": (("DD/MM/YYYY", 0.5), ("YYYY/MM/DD", 0.2), ("YYYY-MM-DD", 0.2), ("DD-MM-YYYY", 0.1)),
        "es2": (*_SLASHES, ("DD-MM-YYYY", 0.1)),
        "br2": _SLASHES,
        "pt2": (("DD-MM-YYYY", 0.35), ("DD/MM/YYYY", 0.4), ("YYYY-MM-DD", 0.2), ("YYYY/MM/DD", 0.05)),
        "it2": (*_SLASHES, ("DD.MM.YYYY", 0.06), ("D MMMM YYYY", 0.04)),
        "nl2": (("DD-MM-YYYY", 0.6), ("D-M-YYYY", 0.14), ("DD-MM-YY", 0.08), ("YYYY-MM-DD", 0.18)),
        "be2": (("DD/MM/YYYY", 0.6), ("D/MM/YYYY", 0.1), ("DD-MM-YYYY", 0.1), ("YYYY-MM-DD", 0.2)),
        "pl3": (("YYYY-MM-DD", 0.44), ("DD.MM.YYYY", 0.42), ("DD-MM-YYYY", 0.1), ("D.MM.YYYY", 0.04)),
        "pl4": (("DD.MM.YYYY", 0.5), ("YYYY-MM-DD", 0.4), ("DD/MM/YYYY", 0.1)),
        "ti": _DOTS,
    },
    odd_dates=(
        ("YYYYMMDD", 3),
        ("YYYY.MM.DD", 1),
        ("YYYY/M/D", 0.8),
        ("DDMMYYYY", 1.2),
        ("YYMMDD", 0.8),
        ("DDMMYY", 0.8),
        ("MMDDYY", 0.3),
        ("DDMMMYY", 0.6),
        ("DD-MMM-YYYY", 1.5),
        ("DD.MMM.YYYY", 0.8),
        ("D. MMMM YYYY", 0.7),
        ("D MMMM YYYY", 1),
        ("MMMM D, YYYY", 0.6),
        ("DD MMM YY", 0.8),
        ("MMM/DD/YYYY", 0.3),
        ("DD MM YYYY", 0.6),
        ("D.M.YY", 0.8),
        ("DD/MM/YY", 1),
        ("M/D/YY", 0.6),
        ("MM-DD-YY", 0.4),
        ("YY-MM-DD", 0.4),
        ("YY.MM.DD", 0.3),
        ("D-M-YY", 0.4),
    ),
    times={
        "us2": (("{h}:{mm} {AP}", 0.35), ("{hh}:{mm} {AP}", 0.15), ("{h}:{mm}:{ss} {AP}", 0.2), ("{HH}:{mm}", 0.3)),
        "nz": (*_CLOCK, ("{h}:{mm} {ap}", 0.15), ("{h}.{mm}{ap}", 0.05)),
        "sg": (*_CLOCK, ("{HH}{mm}", 0.12), ("{hh}:{mm} {AP}", 0.12)),
        "li": (*_CLOCK, ("{HH}.{mm}", 0.15)),
        "de2": (*_CLOCK, ("{HH}:{mm} Uhr", 0.06), ("{HH}.{mm}", 0.05)),
        "fr2": (*_CLOCK, ("{HH}h{mm}", 0.15), ("{H} h {mm}", 0.05)),
        "sn": (*_CLOCK, ("{HH}h{mm}", 0.1)),
        "co": (*_CLOCK, ("{hh}:{mm} {pt}", 0.12), ("{h}:{mm}:{ss} {sp}", 0.08)),
        "es2": (*_CLOCK, ("{H}:{mm} h", 0.06)),
        "br2": (*_CLOCK, ("{HH}h{mm}", 0.1)),
        "pt2": (*_CLOCK, ("{HH}h{mm}", 0.1)),
        "it2": (*_CLOCK, ("{HH}.{mm}", 0.12)),
        "nl2": (*_CLOCK, ("{HH}.{mm} uur", 0.04), ("{HH}.{mm}", 0.05)),
        "be2": (*_CLOCK, ("{HH}u{mm}", 0.08)),
        "pl3": (*_CLOCK, ("{HH}.{mm}", 0.05)),
        "pl4": _CLOCK,
        "ti": (*_CLOCK, ("{HH}.{mm}", 0.1)),
    },
    odd_times=(
        ("{HH}{mm}", 2),
        ("{HH}{mm}{ss}", 1.6),
        ("{HH}.{mm}", 1),
        ("{HH}.{mm}.{ss}", 0.8),
        ("{h}:{mm}{AP}", 1),
        ("{hh}:{mm}:{ss}{AP}", 0.6),
        ("{h}:{mm} {pt}", 0.6),
        ("{h}:{mm}{p}", 0.4),
        ("{HH}h{mm}", 0.6),
        ("{HH}:{mm}:{ss}.00", 0.6),
        ("{HH}:{mm}:{ss},0", 0.3),
        ("{HH}:{mm}:{ss}.000000", 0.4),
    ),
    directions={
        "en": (
            ("IN", "OUT"),
            ("Entry", "Exit"),
            ("Clock-in", "Clock-out"),
            ("Arrived", "Departed"),
            ("Came", "Went"),
            ("Sign on", "Sign off"),
        ),
        "es": (
            ("Entrada", "Salida"),
            ("ENT", "SAL"),
            ("Llegada", "Salida"),
            ("Entra", "Sale"),
            ("Inicio", "Fin"),
            ("Entró", "Salió"),
        ),
        "de": (
            ("Kommen", "Gehen"),
            ("rein", "raus"),
            ("Eingang", "Ausgang"),
            ("Dienstbeginn", "Dienstende"),
            ("Ankunft", "Abgang"),
            ("Ein", "Aus"),
        ),
        "fr": (
            ("Entrée", "Sortie"),
            ("ENT", "SOR"),
            ("Prise de poste", "Fin de poste"),
            ("Arrivé", "Parti"),
            ("Début", "Fin"),
        ),
        "pt": (("Entrada", "Saída"), ("ENT", "SAI"), ("Entrou", "Saiu"), ("Início", "Fim"), ("Chegada", "Saída")),
        "it": (("Entrata", "Uscita"), ("ENT", "USC"), ("Entrato", "Uscito"), ("Inizio", "Fine"), ("Arrivo", "Uscita")),
        "nl": (
            ("In", "Uit"),
            ("Aankomst", "Vertrek"),
            ("Inkomend", "Uitgaand"),
            ("Begin", "Einde"),
            ("Ingeklokt", "Uitgeklokt"),
        ),
        "pl": (
            ("Wejście", "Wyjście"),
            ("WEJ", "WYJ"),
            ("Przyszedł", "Wyszedł"),
            ("Początek", "Koniec"),
            ("Przyjście", "Wyjście"),
        ),
    },
    codes=_CODES,
    answers={
        "en": (("Yes", "No"), ("Y", "N"), ("yes", ""), ("TRUE", "FALSE")),
        "es": (("Sí", "No"), ("SI", "NO"), ("S", "N"), ("Verdadero", "Falso")),
        "de": (("Ja", "Nein"), ("ja", ""), ("j", "n"), ("Wahr", "Falsch")),
        "fr": (("Oui", "Non"), ("OUI", "NON"), ("O", "N"), ("oui", "")),
        "pt": (("Sim", "Não"), ("sim", ""), ("S", "N"), ("Verdadeiro", "Falso")),
        "it": (("Sì", "No"), ("si", "no"), ("S", "N"), ("sì", "")),
        "nl": (("Ja", "Nee"), ("J", "N"), ("ja", ""), ("Waar", "Onwaar")),
        "pl": (("Tak", "Nie"), ("tak", ""), ("T", "N"), ("Prawda", "Fałsz")),
    },
    roles={
        "en": (("Supervisor", "Staff"), ("Foreman", "Operative"), ("SUP", "EMP"), ("Manager", "Team member")),
        "es": (("Supervisor", "Operario"), ("Encargado", "Trabajador"), ("Mando", "Personal")),
        "de": (("Vorgesetzter", "Mitarbeiter"), ("Meister", "Arbeiter"), ("Führungskraft", "Beschäftigte")),
        "fr": (("Responsable", "Salarié"), ("Superviseur", "Agent"), ("Contremaître", "Ouvrier")),
        "pt": (("Supervisor", "Operário"), ("Encarregado", "Trabalhador"), ("Líder", "Colaborador")),
        "it": (("Responsabile", "Dipendente"), ("Supervisore", "Operatore"), ("Capoturno", "Operaio")),
        "nl": (("Leidinggevende", "Medewerker"), ("Ploegbaas", "Werknemer"), ("Chef", "Personeel")),
        "pl": (("Kierownik", "Pracownik"), ("Brygadzista", "Robotnik"), ("Przełożony", "Pracownik")),
    },
    outcomes={
        "en": (("Match", "No match"), ("Valid", "Invalid"), ("Pass", "Fail"), ("Accepted", "Not accepted")),
        "es": (("Aceptada", "Rechazada"), ("Correcto", "Incorrecto"), ("Reconocida", "No reconocida")),
        "de": (("akzeptiert", "abgewiesen"), ("gültig", "ungültig"), ("erkannt", "nicht erkannt")),
        "fr": (("Acceptée", "Refusée"), ("Reconnu", "Non reconnu"), ("Valide", "Invalide")),
        "pt": (("Aceite", "Rejeitada"), ("Reconhecida", "Não reconhecida"), ("Autorizado", "Negado")),
        "it": (("Accettata", "Rifiutata"), ("Riconosciuta", "Non riconosciuta"), ("OK", "KO")),
        "nl": (("Geaccepteerd", "Geweigerd"), ("Herkend", "Niet herkend"), ("Geldig", "Ongeldig")),
        "pl": (("Przyjęto", "Odrzucono"), ("Rozpoznano", "Nie rozpoznano"), ("Poprawny", "Niepoprawny")),
    },
    titles={
        "en": ("Printed by M. Carter, payroll", "All clocks, all shifts", "Form HR-7 rev. 03/2019", "Page 1 of 1"),
        "es": ("Listado preparado por Personal", "Todos los relojes", "Impreso P-7, rev. 03/2019", "Hoja 1 de 1"),
        "de": ("Ausgegeben von der Lohnstelle", "Alle Uhren", "Vordruck P7, Stand 01.03.2019", "Blatt 1 von 1"),
        "fr": ("Édité par le service paie", "Toutes les pointeuses", "Imprimé P7, rév. 01/03/2019", "Feuille 1 sur 1"),
        "pt": ("Emitido pelos Recursos Humanos", "Todos os relógios", "Impresso P7, rev. 03/2019", "Folha 1 de 1"),
        "it": ("Stampato dall'ufficio paghe", "Tutti gli orologi", "Modello P7, rev. 01/03/2019", "Foglio 1 di 1"),
        "nl": ("Afgedrukt door salarisadministratie", "Alle klokken", "Model P7, versie 01-03-2019", "Blad 1 van 1"),
        "pl": ("Wydruk z kadr", "Wszystkie rejestratory", "Druk P7, wersja z 01.03.2019", "Strona 1 z 1"),
    },
    totals={
        "en": ("Lines: {count}", "{count} in all", "Checked by: ____________"),
        "es": ("Líneas: {count}", "Total general {count}", "Visto bueno: ________"),
        "de": ("Summe: {count}", "{count} Einträge", "Geprüft: ____________"),
        "fr": ("Total : {count}", "{count} lignes", "Vu et vérifié : ________"),
        "pt": ("Total: {count}", "{count} linhas", "Conferido por: ________"),
        "it": ("Totale: {count}", "{count} righe", "Visto: ____________"),
        "nl": ("Totaal: {count}", "{count} regels", "Gezien door: ________"),
        "pl": ("Razem: {count}", "Liczba wierszy: {count}", "Sprawdził: ____________"),
    },
    file_names={
        "en": {
            "people": ("staff list", "crew", "active employees"),
            "readers": ("readers", "hand reader list"),
            "enrolments": ("enrolled hands", "reader users"),
            "punches": ("punches", "clock log", "downloaded log"),
            "schedules": ("shift plan", "roster"),
            "consent": ("hand reading consents",),
            "rates": ("hourly rates",),
        },
        "es": {
            "people": ("plantilla", "trabajadores"),
            "readers": ("lectores", "terminales"),
            "enrolments": ("manos registradas", "usuarios del lector"),
            "punches": ("fichajes", "registro de marcas"),
            "schedules": ("turnos previstos", "cuadrante"),
            "consent": ("consentimientos mano",),
            "rates": ("salarios hora",),
        },
        "de": {
            "people": ("Belegschaft", "Personalliste"),
            "readers": ("Handleser", "Geräteliste"),
            "enrolments": ("eingelernte Hände", "Benutzer am Leser"),
            "punches": ("Stempelzeiten", "Buchungsliste"),
            "schedules": ("Schichtplan", "Dienstplan KW"),
            "consent": ("Einwilligungen Handleser",),
            "rates": ("Stundenlöhne",),
        },
        "fr": {
            "people": ("liste du personnel", "salaries"),
            "readers": ("pointeuses", "lecteurs de main"),
            "enrolments": ("mains enregistrees", "utilisateurs lecteur"),
            "punches": ("pointages", "journal des passages"),
            "schedules": ("planning des postes", "roulement"),
            "consent": ("consentements main",),
            "rates": ("taux horaires",),
        },
        "pt": {
            "people": ("lista de pessoal", "colaboradores ativos"),
            "readers": ("leitores de mao", "relogios de ponto"),
            "enrolments": ("maos registadas", "usuarios do leitor"),
            "punches": ("registo de ponto", "marcacoes"),
            "schedules": ("escala de turnos", "mapa de turnos"),
            "consent": ("consentimentos mao",),
            "rates": ("valores por hora",),
        },
        "it": {
            "people": ("elenco personale", "addetti"),
            "readers": ("lettori mano", "orologi"),
            "enrolments": ("mani registrate", "utenti del lettore"),
            "punches": ("timbrature", "registro passaggi"),
            "schedules": ("turni previsti", "tabella turni"),
            "consent": ("consensi lettura mano",),
            "rates": ("paghe orarie",),
        },
        "nl": {
            "people": ("personeelslijst", "medewerkers actief"),
            "readers": ("handlezers", "klokkenlijst"),
            "enrolments": ("geregistreerde handen", "gebruikers lezer"),
            "punches": ("klokgegevens", "in en uit"),
            "schedules": ("dienstrooster", "ploegenrooster"),
            "consent": ("toestemmingen handlezer",),
            "rates": ("uurlonen",),
        },
        "pl": {
            "people": ("lista pracownikow", "kadra"),
            "readers": ("czytniki dloni", "rejestratory"),
            "enrolments": ("zarejestrowane dlonie", "uzytkownicy czytnika"),
            "punches": ("odbicia", "dziennik zdarzen"),
            "schedules": ("grafik zmian", "harmonogram"),
            "consent": ("zgody dlon",),
            "rates": ("stawki godzinowe",),
        },
    },
    strangers=STRANGERS,
    notes={
        "en": ("* agency staff are listed separately", "Queries to the wages office, ext. 12", "Signed: ____________"),
        "es": ("* el personal externo va aparte", "Dudas: extensión 12", "Firma: ____________"),
        "de": ("* Leihkräfte siehe eigene Liste", "Rückfragen: Lohnbüro, Apparat 12", "Unterschrift: ____________"),
        "fr": ("* intérimaires : voir l'autre liste", "Questions : paie, poste 12", "Signature : ____________"),
        "pt": ("* externos em lista própria", "Dúvidas: extensão 12", "Assinatura: ____________"),
        "it": ("* somministrati in elenco a parte", "Per chiarimenti: interno 12", "Firma: ____________"),
        "nl": ("* uitzendkrachten staan apart", "Vragen: toestel 12", "Handtekening: ____________"),
        "pl": ("* pracownicy agencji na osobnej liście", "Pytania: wewn. 12", "Podpis: ____________"),
    },
    bands={
        "en": ("Employee", "When"),
        "es": ("Empleado", "Cuándo"),
        "de": ("Mitarbeiter", "Wann"),
        "fr": ("Salarié", "Quand"),
        "pt": ("Colaborador", "Quando"),
        "it": ("Dipendente", "Quando"),
        "nl": ("Medewerker", "Wanneer"),
        "pl": ("Pracownik", "Kiedy"),
    },
)
