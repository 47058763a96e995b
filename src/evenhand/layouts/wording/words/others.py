"""Words for what no table here has a place for, and for what changes little of a header. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_OTHERS"]

OF_OTHERS: dict[str, dict[str, str]] = {
    "break": {
        "en": "break, break length, break minutes, breaks, brk, lunch, meal, meal break, pause, rest, rest break",
        "es": "almuerzo, bocadillo, comida, desc, descanso, pausa, receso, refrigerio",
        "de": "mittag, mittagspause, pause, pausen, pausenlänge, pausenzeit, ruhepause",
        "fr": "coupure, déjeuner, durée de pause, pause, pause déjeuner, repas",
        "pt": "almoço, descanso, intervalo, pausa, refeição",
        "it": "intervallo, pausa, pausa pranzo, pranzo, riposo",
        "nl": "lunch, pauze, pauzeduur, pauzes, rust, schafttijd",
        "pl": "czas przerwy, obiad, przerwa, przerwa obiadowa, przerwy",
    },
    "change": {
        "en": (
            "change, changed, created, created by, downloaded, edit, edited, export, exported, import, imported, last "
            "change, last changed, last modified, last update, modification, modified, printed, status date, sync, "
            "synced, update, updated, user who changed"
        ),
        "es": (
            "actualización, actualizado, cambiado, creado, descargado, editado, exportación, exportado, importado, "
            "impreso, modificación, modificado, usuario que modificó, última modificación"
        ),
        "de": (
            "aktualisiert, aktualisierung, ausgegeben, änderung, änderungsdatum, bearbeitet, erstellt, export, "
            "exportiert, geändert, geändert von, gedruckt, importiert, letzte änderung, stand vom"
        ),
        "fr": (
            "créé, dernière modification, export, exporté, édité, importé, imprimé le, maj, mis à jour, mise à jour, "
            "modif, modification, modifié, modifié par"
        ),
        "pt": (
            "alteração, alterado, alterado por, atualização, atualizado, criado, editado, exportado, importado, "
            "impresso em, modificado, última alteração"
        ),
        "it": (
            "agg, aggiornamento, aggiornato, creato, esportato, importato, modifica, modificato, modificato da, "
            "stampato il, ultima modifica, variazione"
        ),
        "nl": (
            "aangemaakt, afgedrukt, bijgewerkt, geëxporteerd, geïmporteerd, gewijzigd, gewijzigd door, laatste "
            "wijziging, mutatie, mutatiedatum, wijziging, wijzigingsdatum"
        ),
        "pl": (
            "aktualizacja, aktualizacji, edycja, modyfikacja, modyfikacji, ostatnia zmiana, utworzono, wydrukowano, "
            "wyeksportowano, zaimportowano, zaktualizowano, zmieniono, zmienił, zmodyfikowano"
        ),
    },
    "checksum": {
        "en": (
            "check, check cd, check digit, check sum, check value, checksum, chk, chk sum, control, control sum, crc, "
            "crc value, crc16, ctl, ctrl, digest, guid, hash, hash8, parity, uuid, verification code"
        ),
        "es": (
            "control, control interno, código de control, crc, ctrl, d c, dígito control, dígito de control, dígito "
            "verificador, dv, hash, suma ctrl, suma de control, verificación, verificador"
        ),
        "de": (
            "crc, hash, kontrolle, kontrollsumme, kontrollziffer, ks, p summe, prüf, prüfsumme, prüfz, prüfzeichen, "
            "prüfziffer, pz, quersumme"
        ),
        "fr": (
            "chiffre de contrôle, cl ctrl, clé, clé de contrôle, code de contrôle, contrôle, crc, ctrl, empreinte, "
            "hash, som ctrl, somme ctrl, somme de contrôle"
        ),
        "pt": (
            "controle, controlo, código de controlo, crc, ctrl, dig ver, dígito de controlo, dígito verificador, dv, "
            "hash, soma de controlo, soma de verificação, soma verif, verificação"
        ),
        "it": (
            "c contr, carattere di controllo, cifra ctrl, cifra di controllo, codice di controllo, contr, controllo, "
            "crc, ctrl, hash, somma di controllo, verifica crc"
        ),
        "nl": (
            "cc8, checksum, contr getal, controle, controlecijfer, controlecode, controlegetal, controlesom, crc, hash"
        ),
        "pl": (
            "crc, cyfra kontrolna, hash, kontr, kontrola, kontrolna, kontrolny, s kontr, suma kontrolna, znak kontrolny"
        ),
    },
    "degree": {
        "en": "degree, extent, grade of",
        "es": "grado",
        "de": "ausmass, grad",
        "fr": "degré",
        "pt": "grau",
        "it": "grado",
        "nl": "graad, mate",
        "pl": "stopień",
    },
    "event_code": {
        "en": (
            "action code, channel, error, error code, event code, flags, function code, function key, manual, mode "
            "code, origin, posted, processed, reason code, source, verification mode, verify mode, verify type"
        ),
        "es": (
            "código de acción, código de error, código de evento, fuente, manual, modo de verificación, origen, "
            "procesado"
        ),
        "de": (
            "ereigniscode, ereignisschlüssel, fehler, fehlercode, funktionstaste, herkunft, manuell, quelle, "
            "verarbeitet, verifikationsmodus"
        ),
        "fr": "code erreur, code événement, erreur, manuel, mode de vérification, origine, source, traité",
        "pt": "código de erro, código do evento, erro, fonte, manual, modo de verificação, origem, processado",
        "it": "codice errore, codice evento, elaborato, errore, fonte, manuale, modalità di verifica, origine",
        "nl": "bron, fout, foutcode, gebeurteniscode, handmatig, herkomst, verificatiemodus, verwerkt",
        "pl": "błąd, kod błędu, kod zdarzenia, pochodzenie, przetworzono, ręcznie, tryb weryfikacji, źródło",
    },
    "firmware": {
        "en": (
            "baud, firmware, fw, gateway, host, hostname, ip, ip address, last contact, last poll, last seen, mac, "
            "mac address, make, manufacturer, model, model no, network, online, port, purchased, serial, serial no, "
            "serial number, software, subnet, sw version, vendor"
        ),
        "es": (
            "dirección ip, en línea, fabricante, firmware, ip, mac, marca del equipo, modelo, núm serie, número de "
            "serie, puerto, red, serie, último contacto"
        ),
        "de": (
            "baujahr, firmware, hersteller, ip, ip adresse, letzter kontakt, mac, mac adresse, modell, netz, "
            "netzwerk, online, port, ser nr, seriennr, seriennummer"
        ),
        "fr": (
            "adresse ip, dernier contact, en ligne, fabricant, ip, mac, micrologiciel, modèle, n série, numéro de "
            "série, réseau, série"
        ),
        "pt": (
            "endereço ip, fabricante, firmware, ip, mac, modelo, no série, número de série, rede, série, último "
            "contacto"
        ),
        "it": (
            "firmware, indirizzo ip, ip, mac, matricola apparecchio, modello, n serie, numero di serie, numero "
            "seriale, produttore, rete, seriale, ultimo contatto"
        ),
        "nl": "fabrikant, firmware, ip, ip adres, laatste contact, mac, model, netwerk, serienr, serienummer",
        "pl": (
            "adres ip, ip, mac, model, nr ser, nr seryjny, numer seryjny, oprogramowanie, ostatni kontakt, producent, "
            "seryjny, sieć"
        ),
    },
    "flag": {
        "en": "boolean, fl, flag, flg, ind, indicator, is, marker, t f, tf, y n, yes no, yn",
        "es": "es, indicador, marca sí no, s n, si no, sí no",
        "de": "ist, j n, ja nein, jn, kennz, kennzeichen, kz, merkmal",
        "fr": "est, indicateur, o n, on, oui non",
        "pt": "eh, é, ind, indicador, s n, sim não",
        "it": "flag, indicatore, s n, si no, sì no",
        "nl": "ind, indicatie, is, j n, ja nee, vlag",
        "pl": "czy, flaga, t n, tak nie, znacznik",
    },
    "goods": {
        "en": (
            "appointment, article, asset, batch, booking reference, complaint, course, delivered, delivery, equipment "
            "tag, fuel, guest, humidity, inventory, invoice, lesson, licence plate, lot, meter, meter reading, "
            "mileage, odometer, order no, order number, patient, plate, pressure, product, pupil, purchase, purchase "
            "order, reservation, route, shipment, shipped, stock, stock level, student, supplier, temperature, "
            "ticket, tour no, trip, truck, vehicle, volume litres, warehouse bin, weight"
        ),
        "es": (
            "activo fijo, albarán, alumno, artículo, camión, cita, combustible, compra, contador, curso, entrega, "
            "entregado, envío, existencias, factura, huésped, inventario, kilometraje, lectura contador, lote, "
            "matrícula del camión, paciente, pedido, peso, producto, proveedor, reclamación, reserva, ruta, "
            "temperatura, viaje"
        ),
        "de": (
            "anlage nr, anschaffung, artikel, auftrag, auftragsnummer, bestand, bestellung, charge, einkauf, fahrt, "
            "gast, gegenstand, gewicht, inventar, inventarnummer, kennzeichen fahrzeug, kilometerstand, kraftstoff, "
            "kurs, lagerbestand, lieferant, lieferdatum, lieferschein, lieferung, lkw, los, patient, produkt, "
            "rechnung, reklamation, reservierung, route, schüler, temperatur, termin, versand, ware, zähler, "
            "zählerstand"
        ),
        "fr": (
            "achat, article, bon de livraison, camion, carburant, commande, compteur, cours, expédition, élève, "
            "facture, fournisseur, hôte, inventaire, itinéraire, kilométrage, livraison, livré, lot, patient, plaque, "
            "poids, produit, relevé, rendez vous, réclamation, réservation, stock, température, trajet"
        ),
        "pt": (
            "aluno, artigo, camião, caminhão, combustível, compra, contador, curso, encomenda, entrega, envio, "
            "estoque, factura, fatura, fornecedor, guia de remessa, hóspede, inventário, leitura do contador, lote, "
            "marcação de consulta, nota fiscal, paciente, pedido, peso, produto, quilometragem, reclamação, reserva, "
            "rota, temperatura, viagem"
        ),
        "it": (
            "acquisto, alunno, appuntamento, articolo, bolla di consegna, camion, carburante, chilometraggio, "
            "consegna, contatore, corso, ddt, fattura, fornitore, giacenza, inventario, lotto, ordine di acquisto, "
            "ospite, paziente, percorso, peso, prenotazione, prodotto, reclamo, spedizione, targa, temperatura, "
            "viaggio"
        ),
        "nl": (
            "afspraak, artikel, bestelling, brandstof, cursus, factuur, gast, gewicht, inkoop, inventaris, kenteken, "
            "kilometerstand, klacht, leerling, leverancier, leverbon, leverdatum, levering, meterstand, order nr, "
            "partij, patiënt, product, reservering, rit, temperatuur, verzending, voorraad, vrachtwagen"
        ),
        "pl": (
            "artykuł, ciężarówka, data dostawy, dostawa, dostawca, faktura, gość, inwentarz, kurs, licznik, pacjent, "
            "paliwo, partia, podróż, produkt, przebieg, reklamacja, rezerwacja, stan licznika, tablica rejestracyjna, "
            "temperatura, towar, trasa, uczeń, waga, wizyta, wysyłka, zakup, zamówienie, zapas"
        ),
    },
    "qualifier": {
        "en": (
            "actual, additional, base, basic, business, current, default, exact, functional, individual, internal, "
            "line of address, local, main, new, official, old, other, own, permanent, personal, physical, preferred, "
            "primary, principal, private, standard, usual"
        ),
        "es": (
            "actual, bancario, base, básica, básico, exacta, exacto, funcional, habitual, interno, local, normal, "
            "nuevo, oficial, otro, particular, personal, principal, propio, real"
        ),
        "de": (
            "aktuell, aktueller, amtlich, basis, betrieblich, dienstlich, eigen, eigene, genau, grund, haupt, intern, "
            "offiziell, örtlich, persönlich, persönliche, privat, ständig, tatsächlich, üblich"
        ),
        "fr": (
            "actuel, actuelle, base, courant, exact, exacte, fonctionnel, habituel, interne, local, officiel, "
            "personnel, principal, principale, privé, propre, réel"
        ),
        "pt": (
            "atual, base, exata, exato, funcional, habitual, int, interno, local, oficial, particular, pessoal, "
            "principal, próprio, real, residencial"
        ),
        "it": (
            "abituale, anagrafico, attuale, aziendale, base, esatta, esatto, funzionale, interno, locale, personale, "
            "principale, privato, proprio, reale, ufficiale"
        ),
        "nl": (
            "basis, eigen, exacte, functioneel, gebruikelijk, hoofd, huidig, huidige, int, intern, officieel, "
            "officiële, persoonlijk, privé, vast, werkelijk"
        ),
        "pl": (
            "aktualna, aktualny, dokładny, główne, główny, obecny, oficjalny, osob, osobista, osobisty, podstawowa, "
            "podstawowe, podstawowy, prywatny, stały, służbowy, wewn, wewnętrzna, wewnętrzny, własny, zwykły"
        ),
    },
    "received": {
        "en": "case, dossier, reading number, receipt, received, subject, ticket",
        "es": "asunto, expediente de caso, recibido",
        "de": "akte, betreff, eingang am, eingegangen, vorgang nr",
        "fr": "dossier, numéro de dossier, objet, reçu, reçu le, sujet",
        "pt": "assunto, processo, recebido",
        "it": "oggetto, pratica, ricevuto",
        "nl": "dossier, onderwerp, ontvangen, zaak",
        "pl": "otrzymano, sprawa, temat",
    },
    "remark": {
        "en": (
            "add notes, additional, additional notes, annot, annotation, cmnt, cmt, comment, commentary, comments, "
            "details, explanation, feedback, free text, justification, memo, message, note, notes, obs, observation, "
            "observations, reason, reason text, rem, remark, remarks, rmk, rmks, text"
        ),
        "es": (
            "aclaraciones, aclaración, anotación, causa, coment, comentario, comentario libre, comentarios, det, "
            "detalle, incidencia, incidencias, justificación, mensaje, motivo, nota, notas, notas libres, obs, "
            "observ, observaciones, observación, texto libre"
        ),
        "de": (
            "anm, anmerkung, begründung, bem, bemerk, bemerkung, besonderheiten, erläuterung, freitext, grund, hinw, "
            "hinweis, info, komm, kommentar, meldungstext, notiz, notizen, sonst, sonstiges, vermerk"
        ),
        "fr": (
            "annotation, comm, commentaire, détail, justification, mention, message, motif, note, note libre, notes, "
            "obs, observ, observation, préc, précision, précisions, raison, rem, remarque, texte libre"
        ),
        "pt": (
            "anot, anotação, anotações, coment, comentário, coms, detalhe, justificação, justificativa, mensagem, "
            "motivo, nota, notas, obs, observação, observações, razão, texto livre"
        ),
        "it": (
            "annot, annotazione, annotazioni, app, appunti, causa, comm, commento, dettaglio, giustificazione, "
            "messaggio, motivo, n b, nota, note, oss, osservazione, osservazioni, ragione, testo libero"
        ),
        "nl": (
            "aantek, aantekening, bericht, bijzonderheden, commentaar, memo, not, notitie, opm, opmerk, opmerking, "
            "opmerkingen, reden, toel, toelichting, uitleg, vrije tekst"
        ),
        "pl": (
            "adn, adnotacja, adnotacje, dopisek, dopiski, kom, komentarz, notatka, notatki, objaśnienie, opis "
            "dowolny, powód, przyczyna, tekst dowolny, uw, uwaga, uwagi, wiadomość, wyjaśnienie"
        ),
    },
    "row": {
        "en": (
            "count no, entry no, entry number, event id, event number, idx, index, item, item no, line, line no, line "
            "number, ln, log id, msg no, ordinal, position no, rec, recno, record, record id, record no, record "
            "number, row, row id, row no, running number, s n, seq, seq no, sequence, sequence no, ser no, serial no "
            "of row, sl no, sno, sr no, trans id, transaction id"
        ),
        "es": (
            "consecutivo, correlativo, fila, id evento, id marcación, id registro, item, índice, ítem, lín, línea, no "
            "ord, no orden, no registro, número de línea, número de orden, número de registro, ord, orden, partida "
            "no, registro no, reng, renglón, sec, secuencia"
        ),
        "de": (
            "buchungsnummer, datensatz, datensatznummer, eintrag nr, ereignisnummer, folge, folgenummer, index, "
            "laufende, laufende nummer, laufnummer, lfd, lfd nr, lfdnr, lnr, ordnungsnummer, pos, pos nr, position "
            "nr, reihe, reihenfolge, satz, satznr, satznummer, vorgangsnummer, z nr, zeile, zeilennr, zeilennummer"
        ),
        "fr": (
            "enregistrement, enregistrement no, id événement, index, item, lig, ligne, n enreg, n ligne, n ordre, "
            "numéro d ordre, numéro de ligne, numéro séquentiel, ord, ordre, rang, rangée, rg, séq, séquence"
        ),
        "pt": (
            "id evento, id registo, item, índice, lin, linha, no linha, no ordem, nsr, número da linha, número de "
            "ordem, ord, ordem, registo no, registro no, seq, sequencial, sequência"
        ),
        "it": (
            "id evento, indice, n ord, n prog, n riga, numero d ordine, numero riga, ord, ordine, pos, posizione n, "
            "prog, progr, progressivo, record, riga, riga n, seq, sequenza, voce n"
        ),
        "nl": (
            "boekingsnummer, id gebeurtenis, index, nummer regel, positie nr, record, recordnr, regel, regelnr, "
            "regelnummer, rij, rijnr, rijnummer, volg, volgnr, volgnummer, volgorde"
        ),
        "pl": (
            "id zdarzenia, indeks, kol, kolejność, kolejny, l p, liczba porządkowa, lp, nr kolejny, nr w, nr wiersza, "
            "numer wiersza, numer zdarzenia, porządkowy, poz, pozycja, pozycja nr, rekord, wiersz"
        ),
    },
    "sum": {
        "en": (
            "bal, balance, duration, elapsed, gross, hours worked, net, ot, overtime, paid hours, regular, time "
            "worked, tot, total, total hours, totals, worked, worked time"
        ),
        "es": (
            "balance, bruto, duración, extra, extras, horas extra, horas trabajadas, neto, saldo, tot, total, "
            "trabajadas, trabajado"
        ),
        "de": (
            "arbeitszeit, brutto, dauer, ges, gesamt, gleitzeit, ist, ist stunden, iststunden, netto, saldo, "
            "stundensumme, summe stunden, überstunden, üstd"
        ),
        "fr": (
            "brut, cumul, durée, heures sup, heures travaillées, net, solde, supplémentaires, tot, total, travaillées"
        ),
        "pt": "banco de horas, bruto, duração, extras, horas extras, líquido, saldo, tot, total, trabalhadas",
        "it": "durata, lavorate, lordo, netto, ore lavorate, saldo, straord, straordinario, tot, totale",
        "nl": "bruto, duur, gewerkt, gewerkte uren, netto, overuren, saldo, tijdsduur, tot uren, totaal",
        "pl": "brutto, czas pracy, czas trwania, nadg, nadgodziny, netto, ogółem, przepracowane, razem, saldo, suma",
    },
}
