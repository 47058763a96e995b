"""Words for what happens at a reader. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_CLOCKING"]

OF_CLOCKING: dict[str, dict[str, str]] = {
    "direction": {
        "en": (
            "arrive leave, come go, comes goes, coming going, coming or going, dir, direction, dirn, event direction, "
            "flow, going, heading, i o, in or out, in out, in out flag, inbound outbound, inout, io, movement, mvmt, "
            "mvt, sense, traffic, way, which way"
        ),
        "es": (
            "dirección de paso, dirección del paso, e s, entra o sale, entra sale, entrada o salida, entrada salida, "
            "flujo, i e, i s, ingreso egreso, ingreso salida, mov, movimiento, mvto, sent, sentido, sentido del paso"
        ),
        "de": (
            "bew, bewegung, bewegungsart, buchungskennzeichen, e a, ein aus, eingang ausgang, gehrichtung, k g, "
            "kommen gehen, kommt geht, kommt oder geht, laufrichtung, passagerichtung, ri, richt, richtung, zu "
            "abgang, zugang abgang, zutritt austritt"
        ),
        "fr": (
            "a d, arrivée départ, direction du passage, e s, entre sort, entrée sortie, flux, mouv, mouvement, mvt, "
            "sens, sens du passage, sens pass"
        ),
        "pt": (
            "direcção, direç, direção, e s, entra sai, entrada ou saída, entrada saída, fluxo, ingresso saída, mov, "
            "movimento, sent, sentido, sentido da passagem"
        ),
        "it": (
            "dir, direzione, e u, entra esce, entrata uscita, flusso, i u, ingresso uscita, mov, movim, movimento, "
            "senso, verso, verso di passaggio, vs"
        ),
        "nl": (
            "bew, beweging, binnen buiten, doorgangsrichting, i u, in uit, k g, komen gaan, komt gaat, looprichting, "
            "richt, richting"
        ),
        "pl": (
            "kier, kierunek, kierunek przejścia, p w, przyjście wyjście, ruch, strona ruchu, w w, wchodzi wychodzi, "
            "we wy, wejście wyjście"
        ),
    },
    "enrol": {
        "en": (
            "added, added to reader, capture, captured, created, creation, date added, enr, enrl, enrol, enroled, "
            "enroll, enrolled, enrolled on, enrollment, enrolment, first enrolled, hand enrolled, hand taught, joined "
            "reader, learned, loaded, on reader since, recorded hand, reg, registered, registration, taught, "
            "template, template created, template date"
        ),
        "es": (
            "agregado, alta de la mano, alta de mano, alta en el lector, alta en el reloj, alta en lector, alta en "
            "reloj, alta lect, añadido, captura de mano, capturado, cargado, creación, creado, dada de alta, dado de "
            "alta, enrol, enrolada, enrolado, enrolamiento, inscr, inscripción, inscrita, inscrito, plantilla creada, "
            "reg, registrada, registrado, registro, registro de mano"
        ),
        "de": (
            "angel, angelegt, angelernt, angemeldet, anlage, anlern, anlerndatum, anlernung, anmeldung, aufgenommen, "
            "aufn, aufnahme, aufnahmedatum, eingel, eingelernt, eingespeichert, eingetragen, einlern, einlernung, "
            "eintragung, erfasst, erfassung, erstellt, gespeichert, handaufnahme, hinzugefügt, im leser seit, neu "
            "seit, reg, registriert, registrierung"
        ),
        "fr": (
            "acquis, acquisition, ajout, ajouté, ajoutée, apprentissage, au lecteur depuis, capture, capturé, "
            "création, créé, créée, enr, enreg, enregistrement, enregistré, enregistrée, enrôlement, enrôlé, enrôlée, "
            "inscr, inscription, inscrit, inscrite, mis en mémoire, saisi"
        ),
        "pt": (
            "adicionado, cad, cadastrada, cadastrado, cadastro, captura, capturado, criação, criado, gravação, "
            "gravado, incluído, inclusão, inscr, inscrição, inscrita, inscrito, no leitor desde, recolha da mão, reg, "
            "registada, registado, registo, registrada, registrado"
        ),
        "it": (
            "acquisita, acquisito, acquisizione, aggiunto, apprendimento, caric, caricato, creata, creato, creazione, "
            "ins, inserimento, inserita, inserito, iscr, iscritta, iscritto, iscrizione, memorizzato, nel lettore "
            "dal, reg, registr, registrata, registrato, registrazione, rilevamento mano"
        ),
        "nl": (
            "aangeleerd, aangem, aangemaakt, aangemeld, aanmaak, aanmelding, geregistr, geregistreerd, in lezer "
            "sinds, ingel, ingeleerd, ingeschr, ingeschreven, ingevoerd, inleerdatum, inleren, inschrijving, "
            "opgenomen, opgeslagen, reg, registratie, toegevoegd, toev, vastgelegd"
        ),
        "pl": (
            "dodania, dodano, dodany, nauczony, pobrania dłoni, rej, rejestracja, rejestracji, utw, utworzenia, "
            "utworzono, w czytniku od, wczytano, wpis, wpisano, wpisany, wpisany dnia, wpisu, wprowadzono, zapis, "
            "zapisano, zapisu, zarej, zarejestrowana, zarejestrowano, zarejestrowany"
        ),
    },
    "outcome": {
        "en": (
            "accept, acceptance, accepted, access, access granted, access result, admission, admitted, answer, "
            "approved, authentication, authorised, comparison result, decision, denied, granted, match result, "
            "matched, ok, outcome, pass fail, passed, reader answer, reader said, recog, recognised, recognized, "
            "refused, rejected, res, response, result, rslt, success, valid punch, validation, verdict, verif, "
            "verification, verified, verify, vfd"
        ),
        "es": (
            "acceso permitido, acep, aceptación, aceptada, aceptado, aprobado, autorizado, coincide, concedido, "
            "correcto, decisión, dictamen, éxito, permitido, rechazado, reconocida, reconocido, reconocimiento, res, "
            "resp lector, respuesta, resul, result, resultado, valid, validación, validada, validado, veredicto, "
            "verif, verificación, verificado"
        ),
        "de": (
            "abgelehnt, akzeptiert, angenommen, annahme, antwort, bestätigt, bestätigung, entscheid, entscheidung, "
            "erfolg, erfolgreich, erg, ergebnis, erk, erkannt, erkennung, freig, freigabe, freigegeben, geprüft, "
            "gewährt, gültige buchung, hand erkannt, prüfergebnis, prüfung, resultat, treffer, urteil, verif, "
            "verifikation, verifiziert, zugelassen, zulassung, zurückgewiesen, zutritt gewährt"
        ),
        "fr": (
            "acc aut, acceptation, accepté, acceptée, accès autorisé, accordé, autorisé, concordance, conforme, "
            "décision, issue, reconnaissance, reconnu, reconnue, refusé, réponse, rés, résult, résultat, réussite, "
            "statut de contrôle, statut de vérification, valid, validation, validé, verdict, vérif, vérification, "
            "vérifié"
        ),
        "pt": (
            "aceita, aceitação, aceite, aceito, acesso permitido, aprovado, autorizado, concedido, confere, "
            "conferência, decisão, permitido, reconhecida, reconhecido, reconhecimento, recusado, resposta, resul, "
            "result, resultado, sit leit, situação da leitura, sucesso, valid, validação, validado, verif, "
            "verificação, verificado"
        ),
        "it": (
            "accesso consentito, accettata, accettato, autorizzato, concesso, conferma, confermato, consentito, "
            "convalida, convalidato, corrispondenza, decisione, es, esito, respinto, responso, riconoscimento, "
            "riconosciuta, riconosciuto, ris, riscon, riscontro, risposta, risult, risultato, superato, validazione, "
            "verif, verifica, verificato"
        ),
        "nl": (
            "aanvaard, antwoord, beslissing, bevestigd, contr, controle, geaccepteerd, geldige boeking, geslaagd, "
            "geweigerd, goedgekeurd, goedk, goedkeuring, herkend, herkenning, oordeel, res, result, resultaat, "
            "toegang verleend, toegelaten, toegestaan, uitk, uitkomst, uitsl, uitslag, verif, verificatie, verleend"
        ),
        "pl": (
            "akceptacja, dec, decyzja, dopuszczono, dostęp, ocena czytnika, odpowiedź, odrzucono, orzeczenie, "
            "poprawne, potwierdzenie, potwierdzono, przyjęte, przyjęto, przyznano, rezultat, rozp, rozpoznanie, "
            "rozpoznano, sprawdzenie, weryf, weryfikacja, wyn, wynik, zaakceptowano, zgodność, zgodny, zweryfikowano"
        ),
    },
    "presentation": {
        "en": (
            "att, attempt, attempts, captures, enr tries, enrolment tries, hand placements, hand presentations, hand "
            "readings, impressions, measurements, n tries, number of placements, placement, placements, placements "
            "taken, pres, presentation, presentations, reading, readings, repeats, sample, samples, scan, scan count, "
            "scans, scans taken, shown, smp, times placed, times shown, trial, tries, try"
        ),
        "es": (
            "apoyos, capturas, colocaciones, colocación, int, intent, intento, intentos, lect tomadas, lectura, "
            "lecturas, lecturas tomadas, mediciones, muest, muestra, muestras, pres, presentaciones, presentación, "
            "repeticiones, toma, tomas, veces, veces que puso la mano"
        ),
        "de": (
            "anläufe, aufl, auflage, auflagen, aufnahmen, darb, darbietung, darbietungen, handauflage, handauflagen, "
            "handmessungen, handvorlagen, lesungen, mess, messung, messungen, präsentationen, probe, proben, vers, "
            "versuch, versuche, vorl, vorlage, vorlagen, wiederholungen"
        ),
        "fr": (
            "captures, ess, essai, essais, échantillon, échantillons, lecture, lectures, mesures, nb poses, passages "
            "de main, pose, poses, poses de la main, prés, présentation, présentations, prises, répétitions, "
            "tentative, tentatives"
        ),
        "pt": (
            "amost, amostra, amostras, apres, apresentação, apresentações, capturas, colocação, colocações, ensaios, "
            "leitura, leituras, medições, repetições, tent, tentativa, tentativas, vezes, vezes apresentada"
        ),
        "it": (
            "acquisizioni, appoggi, camp, campione, campioni, lettura, letture, misurazioni, misure, present, "
            "presentazione, presentazioni, prova, prove, rilevazione, rilevazioni, ripetizioni, tent, tentativi, "
            "tentativo, volte"
        ),
        "nl": (
            "aanb, aanbieding, aanbiedingen, herhalingen, hoeveel keer, keren, lezingen, met, meting, metingen, "
            "monster, monsters, opname, opnamen, opnames, plaatsing, plaatsingen, pog, poging, pogingen, scans"
        ),
        "pl": (
            "ile razy, odczyty, pobrania, pom, pomiar, pomiary, powtórzenia, prezentacja, prezentacje, prób, próba, "
            "próbka, próbki, próby, przył, przyłożenia, przyłożenie, przyłożeń, skany"
        ),
    },
    "punch": {
        "en": (
            "booking, clkg, clocked, clocked at, clocking, clockings, entry made, ev, event, events, evt, hand, hand "
            "read, keyed at, log, logged, logged at, occurrence, passed, pch, punch, punches, read at, record, "
            "recorded, recorded at, registration, scan event, stamp, stamped, swipe, swiped, tap, trans, transaction, "
            "txn"
        ),
        "es": (
            "checada, ev, evento, fich, fichada, fichaje, fichajes, leído, mano, marc, marca, marcaciones, marcación, "
            "marcado, marcaje, movimiento registrado, pase, paso, pasó, picada, ponchada, reg, registrado, registro, "
            "timbrada, transacción"
        ),
        "de": (
            "buch, buchung, buchungsereignis, durchgang, eintrag, ereig, ereignis, erfasst, erfassung, gebucht, gest, "
            "gestempelt, hand, meldung, passage, passiert, stemp, stempel, stempelung, transaktion, vorgang, "
            "zeitbuchung"
        ),
        "fr": (
            "badgeage, enregistrement, enregistré, évén, événement, évt, lu, main, marquage, opération, pass, "
            "passage, passé, passée, pointage, pointé, pointée, ptg, timbrage, transaction"
        ),
        "pt": (
            "bat, batida, batidas, ev, evento, lançamento, lido, marc, marcação, marcações, marcado, mão, ocorrência, "
            "passagem, passou, picagem, ponto, reg, registado, registo, registrado, registro, transação"
        ),
        "it": (
            "bollatura, ev, evento, letto, mano, marcatura, pass, passaggio, passato, registrato, registrazione, "
            "timbr, timbrato, timbratura, timbrature, transazione, transito"
        ),
        "nl": (
            "boek, boeking, gebeurtenis, geboekt, geklokt, gelezen, gepasseerd, geprikt, geregistreerd, hand, "
            "handeling, klok, klokking, klokmoment, passage, prik, prikking, reg, registratie, transactie"
        ),
        "pl": (
            "dłoni, dłoń, odb, odbicia, odbicie, odbito, odczyt, odczytano, odnotowano, przejścia, przejście, "
            "rejestracja czasu, transakcja, wpis rcp, zapisano, zarejestrowano, zd, zdarz, zdarzenia, zdarzenie"
        ),
    },
    "score": {
        "en": (
            "closeness, cmp sc, compare, comparison, comparison score, comparison value, dev score, deviation, diff, "
            "difference, discrepancy, dissim, dissimilarity, dist, distance, fit, grade of match, hand distance, hand "
            "match, hand match score, hand score, likeness, match, match score, match val, match value, measure, "
            "points, quality of match, sc, score, scr, similarity, threshold value, ver sc, verif score, verification "
            "score"
        ),
        "es": (
            "calificación, coincidencia, comparación, desem, desemejanza, desv, desviación, dif, diferencia, "
            "discrepancia, disimilitud, dist, distancia, distancia de la mano, medida, nota, pts, punt, puntaje, "
            "puntos, puntuación, score, semejanza, similitud, valor, valor comp, valor de comparación"
        ),
        "de": (
            "abst, abstand, abw, abweich, abweichung, abweichungswert, ähnlichkeit, differenz, distanz, güte, "
            "handwert, mass, messwert, pkt, punkte, punktwert, punktzahl, score, trefferwert, unähnlichkeit, "
            "unterschied, übereinstimmung, vergl, vergl wert, vergleich, vergleichsmass, vergleichswert, "
            "vergleichszahl, wert"
        ),
        "fr": (
            "comparaison, concordance chiffrée, déviation, diff, différence, dissemblance, dissimilarité, dist, "
            "distance, éc, écart, écart main, mesure, note, note comp, note de comparaison, points, points de "
            "comparaison, pts, ressemblance, sc, score, valeur, valeur de comparaison"
        ),
        "pt": (
            "comparação, desv, desvio, dif, diferença, dissemelhança, dissimilaridade, dist, distância, escore, "
            "medida, nota, nota de comparação, pont, pontos, pontuação, pts, score, semelhança, valor de comparação"
        ),
        "it": (
            "confronto, deviazione, diff, differenza, dissimilarità, dissomiglianza, dist, distanza, misura, pt, "
            "punt, punteggio, punti, scarto, score, scost, scostamento, somiglianza, valore di confronto"
        ),
        "nl": (
            "afst, afstand, afw, afwijk, afwijking, gelijkenis, handscore, maat, meetwaarde, ongelijkheid, pnt, "
            "punten, sc, score, verg waarde, vergelijk, vergelijking, vergelijkingswaarde, versch, verschil, waarde"
        ),
        "pl": (
            "miara, niepodobieństwo, ocena, ocena zgodności, odchyl, odchylenie, odl, odległość, pkt, podobieństwo, "
            "porówn, porównanie, punktacja, punkty, różn, różnica, score, stopień zgodności, wartość porównania, "
            "wskaźnik"
        ),
    },
    "status": {
        "en": "active, condition, stat, state, status, sts",
        "es": "activo, est, estado, estatus, sit, situación, vigente",
        "de": "aktiv, lage, stand, stat, status, zustand",
        "fr": "actif, état, sit, situation, statut",
        "pt": "activo, ativo, estado, sit, situação, status",
        "it": "attivo, condizione, situazione, st, stato",
        "nl": "actief, staat, stat, status, toestand",
        "pl": "aktywny, stan, stat, status, sytuacja",
    },
    "type": {
        "en": "action, category, class, event type, function, kind, mode, sort, tp, typ, type",
        "es": "acción, clase, especie, modalidad, modo, tipo, tp",
        "de": "art, kategorie, klasse, modus, sorte, typ, vorgangsart",
        "fr": "catégorie, genre de, mode, nature, sorte, tp, type",
        "pt": "acção, ação, classe, espécie, modo, natureza, tipo, tp",
        "it": "azione, causale, classe, genere di, modo, tipo, tipologia, tp",
        "nl": "aard, actie, categorie, modus, soort, tp, type",
        "pl": "czynność, kategoria, klasa, rodz, rodzaj, tryb, typ",
    },
}
