"""A header that is itself a word for a refusal turns yes and no round. Common practice, no source."""

from dataclasses import replace

import pytest

from evenhand.layouts import Answers, SourceFile, propose, read
from evenhand.layouts.proposal import KnownCells
from evenhand.layouts.wording.contraries import is_likeness, sense_of_outcome

KNOWN = KnownCells(readers=["Gate"], numbers=[f"{4100 + at}" for at in range(20)])
OUTCOME = Answers(maps={"4": "outcome"})

REFUSALS = [
    *("Rejected", "refused?", "denied (Y/N)", "is_rejected", "Error", "not recognised", "declined", "Invalid"),
    *("Rechazado", "rechazada", "Denegado", "no reconocido", "Abgelehnt", "abgelehnt ja/nein", "zurückgewiesen"),
    *("nicht erkannt", "Fehler", "Refusé", "rejeté", "erreur", "Recusado", "rejeitada", "erro", "não reconhecido"),
    *("Rifiutato", "respinto", "errore", "Geweigerd", "afgewezen", "fout", "Odrzucono", "odrzucony", "błąd"),
]
ACCEPTANCES = [
    *("Accepted", "OK", "Result", "Verified", "Aceptado", "Resp lector", "Angenommen", "Ergebnis", "Accepté"),
    *("Résultat", "Aceite", "Accettato", "Esito", "Geaccepteerd", "Uitslag", "Przyjęto", "Wynik", "Dostęp"),
]


def log(header: str, *words: str) -> SourceFile:
    rows = [
        f"Gate;{4100 + at % 20};2026-10-{1 + at // 20:02d} {6 + at % 12:02d}:15:0{at % 10};{words[at % len(words)]}"
        for at in range(100)
    ]
    return SourceFile("gate.csv", (f"Reader;Badge;Time;{header}\n" + "\n".join(rows)).encode())


@pytest.mark.parametrize("header", REFUSALS)
@pytest.mark.parametrize(("no", "yes"), [("nein", "ja"), ("N", "T"), ("false", "true"), ("0", "1")])
def test_yes_under_a_word_for_a_refusal_is_a_refusal(header: str, no: str, yes: str) -> None:
    file = log(header, no, no, no, yes)
    proposal = propose(file, OUTCOME, KNOWN)
    assert proposal.questions == ()
    assert proposal.layout.words["outcome"] == {no: "accepted", yes: "refused"}
    rows = read(file, proposal.layout, zones={"Gate": "UTC"})
    assert rows.frame["outcome"].to_list() == ["accepted", "accepted", "accepted", "refused"] * 25


@pytest.mark.parametrize("header", ACCEPTANCES)
def test_yes_under_any_other_word_for_an_outcome_stays_an_acceptance(header: str) -> None:
    file = log(header, "no", "yes")
    proposal = propose(file, OUTCOME, KNOWN)
    assert (proposal.questions, proposal.layout.words) == ((), {})
    assert read(file, proposal.layout, zones={"Gate": "UTC"}).frame["outcome"].to_list() == ["refused", "accepted"] * 50


@pytest.mark.parametrize(
    "header", ["not rejected", "nicht abgelehnt", "Accepted/refused", "rej.", "odrz.", "Abgel", "Alarm", "Störung"]
)
def test_a_header_that_does_not_tell_which_way_has_its_yes_and_no_asked(header: str) -> None:
    assert sense_of_outcome(header) == ""
    asked = propose(log(header, "no", "no", "yes"), OUTCOME, KNOWN).questions
    assert [(one.about, one.subject) for one in asked] == [("words", "no"), ("words", "yes")]


def test_words_for_an_outcome_keep_their_meaning_under_a_word_for_a_refusal() -> None:
    proposal = propose(log("Rejected", "accepted", "rejected"), OUTCOME, KNOWN)
    assert (proposal.questions, proposal.layout.words) == ((), {})


def test_what_a_person_says_of_a_word_goes_before_the_header() -> None:
    file = log("Rejected", "no", "yes")
    said = Answers(maps={"4": "outcome"}, words={"yes": "accepted", "no": "refused"})
    assert propose(file, said, KNOWN).layout.words["outcome"] == {"no": "refused", "yes": "accepted"}


def test_a_kept_layout_that_says_nothing_of_yes_and_no_does_not_turn_them() -> None:
    file = log("Abgelehnt", "ja", "nein")
    stated = propose(file, OUTCOME, KNOWN).layout
    again = propose(file, known=KNOWN, kept={"gate": replace(stated, words={})})
    assert (again.layout, again.questions) == (stated, ())


LIKENESS = [
    *(
        "match",
        "Similarity %",
        "match quality",
        "likeness",
        "Confidence",
        "quality of match",
        "semejanza",
        "coincidencia",
        "Calidad",
    ),
    *("Ähnlichkeit %", "Handaehnlichkeit", "Übereinstimmung", "Güte", "ressemblance", "concordance", "semelhança"),
    *("qualidade", "somiglianza", "corrispondenza", "gelijkenis", "overeenkomst", "podobieństwo", "stopień zgodności"),
]
DISTANCES = [
    *("score", "dissimilarity", "Distance", "hand distance", "disimilitud", "Unähnlichkeit", "Abweichung", "Abstand"),
    *(
        "dissemblance",
        "écart",
        "dissemelhança",
        "punteggio",
        "dissomiglianza",
        "afwijking",
        "niepodobieństwo",
        "wartość",
    ),
]


@pytest.mark.parametrize("header", LIKENESS)
def test_what_grows_with_likeness_is_no_score_unless_a_person_says_so(header: str) -> None:
    file = log(header, "90.5", "93.5", "87.5", "97.0", "91.5", "88.0")
    proposal = propose(file, known=KNOWN)
    assert "score" not in proposal.layout.columns or [one.about for one in proposal.questions] == ["column"]
    said = propose(file, Answers(maps={"4": "score"}), KNOWN)
    assert (said.questions, "score" in said.layout.columns) == ((), True)


@pytest.mark.parametrize("header", DISTANCES)
def test_a_distance_is_a_score(header: str) -> None:
    assert not is_likeness(header)


@pytest.mark.parametrize("header", ["Match Score", "hand match score", "match value"])
@pytest.mark.parametrize(("cells", "is_asked"), [(("31", "40", "22", "57"), False), (("97", "88", "93"), True)])
def test_a_score_of_a_match_is_asked_about_near_the_top_of_its_scale(
    header: str, cells: tuple[str, ...], is_asked: bool
) -> None:
    asked = propose(log(header, *cells), known=KNOWN).questions
    assert [one.subject for one in asked] == [header] * is_asked
