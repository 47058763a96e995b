"""Words for what files carry beside, and no table here has a place for. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_OTHERS"]

OF_OTHERS: dict[str, dict[str, str]] = {
    "absence": {
        "en": (
            "absence, absence code, absence reason, absent, day off, hire reason, hire source, holiday, leave reason, "
            "leave type, maternity, pto, reason for hire, reason for leaving, reason of leaving, sick, sick leave, "
            "sickness, termination reason, time off, vacation"
        ),
        "es": (
            "ausencia, ausente, causa de baja, día libre, enfermedad, incapacidad, licencia, motivo de alta, motivo "
            "de ausencia, motivo de baja, permiso laboral, vacaciones"
        ),
        "de": (
            "abw grund, abwesenheit, abwesenheitsgrund, austrittsgrund, eintrittsgrund, elternzeit, fehlgrund, "
            "fehltage, fehlzeit, frei, krank, krankheit, kündigungsgrund, resturlaub, urlaub"
        ),
        "fr": (
            "abs, absence, arrêt maladie, congé, congés, jour de repos, maladie, motif d absence, motif d entrée, "
            "motif de départ, motif de fin de contrat, motif de sortie"
        ),
        "pt": (
            "afastamento, ausência, doença, falta, faltas, férias, folga, licença, motivo de admissão, motivo de "
            "ausência, motivo de demissão, motivo de saída"
        ),
        "it": (
            "assenza, causa cessazione, causale assenza, congedo, ferie, malattia, motivo assenza, motivo assunzione, "
            "motivo cessazione, permesso ferie, riposo"
        ),
        "nl": (
            "afwezigheid, ontslagreden, reden in dienst, reden uit dienst, reden vertrek, vakantie, verlof, "
            "verlofsoort, verzuim, vrij, ziek, ziekte"
        ),
        "pl": (
            "absencja, choroba, nieob, nieobecność, powód nieobecności, powód odejścia, powód zwolnienia, przyczyna "
            "zwolnienia, urlop, wolne, zwolnienie lekarskie"
        ),
    },
    "account": {
        "en": (
            "a c, ac, acc, account, account holder, account no, acct, bank, bank ac, bank acc, bank account, bank "
            "details, bank name, bic, deposit account, direct deposit, iban, pay account, payee account, routing, "
            "routing number, sort code, swift"
        ),
        "es": (
            "banco, cbu, ccc, clabe, cta, cta banc, ctabanc, cuenta, cuenta bancaria, cuenta corriente, cuenta de "
            "depósito, cuenta de pago, entidad bancaria, iban, no cta, número de cuenta"
        ),
        "de": (
            "bank, bank kto, bankkonto, bankleitzahl, bankname, bankverb, bankverbindung, bic, blz, gehaltskonto, "
            "iban, konto, kontoinhaber, kontonr, kontonummer, kto, kto nr, l kto, lohnkonto"
        ),
        "fr": (
            "banque, bic, compte, compte bancaire, compte de paie, coordonnées bancaires, cpt, cpte, cpte banc, "
            "domiciliation bancaire, iban, numéro de compte, rib, titulaire du compte"
        ),
        "pt": (
            "agência bancária, banco, conta, conta bancária, conta corrente, conta de pagamento, cta, cta banc, cta "
            "pag, dados bancários, iban, nib, número da conta, pix"
        ),
        "it": (
            "abi, banca, c c, cab, cc, cc bancario, conto, conto bancario, conto corrente, conto stipendio, "
            "coordinate bancarie, cto, cto banc, iban, intestatario conto"
        ),
        "nl": (
            "bank, banknummer, bankrek, bankrekening, bankrekeningnummer, bic, girorekening, iban, rek, rek nr, "
            "rekening, rekeningnummer, tenaamstelling"
        ),
        "pl": (
            "bank, bankowy, iban, konto, konto bankowe, konto do wypłat, kto, nr konta, numer konta, numer rachunku, "
            "rach, rachunek, rachunek bankowy"
        ),
    },
    "age": {
        "en": (
            "age, age in years, age years, age yrs, current age, length of service, tenure, years, years of age, "
            "years of service, yrs"
        ),
        "es": "añ, años, años de edad, años de servicio, ed, edad",
        "de": "alt, alter, alter in jahren, altersjahr, dienstjahre, jahre, jhr, lebensalter",
        "fr": "an s, années, années de service, ans, âge, âge actuel",
        "pt": "anos, anos de idade, anos de serviço, id anos, idade",
        "it": "anni, anni di servizio, età, età anagrafica",
        "nl": "dienstjaren, jaren, jrn, leeft, leeftijd, leeftijd in jaren",
        "pl": "lat, lat pracy, lata, staż, staż pracy, wiek, wiek w latach",
    },
    "birth": {
        "en": (
            "b date, bdate, bday, birth, birth date, birth dt, birth year, birthdate, birthday, birthplace, born, "
            "born on, brth dt, date born, date of birth, dob, natal, place of birth, year of birth"
        ),
        "es": (
            "cumpleaños, f n, f nac, fecha de nacimiento, fecha nac, lugar de nacimiento, nac, nacida, nacido, nacido "
            "el, nacim, nacimiento, natalicio"
        ),
        "de": (
            "geb, geb am, geb dat, geb datum, gebdat, geboren, gebtag, geburt, geburtsdatum, geburtsjahr, geburtsort, "
            "geburtstag, jahrgang, tag der geburt"
        ),
        "fr": (
            "année de naissance, anniversaire, d n, date de naissance, dt naiss, lieu de naissance, nais, naiss, "
            "naissance, ne le, né, né e le, né le, née"
        ),
        "pt": (
            "aniv, aniversário, data de nascimento, dt nasc, local de nascimento, nasc, nascida, nascido, nascido em, "
            "nascimento, naturalidade"
        ),
        "it": (
            "anno di nascita, compleanno, d n, data di nascita, dt nasc, luogo di nascita, nasc, nascita, nata, nato, "
            "nato il"
        ),
        "nl": (
            "geb, geb dat, geb datum, gebdat, geboorte, geboortedag, geboortedatum, geboortejaar, geboorteplaats, "
            "geboren, geboren op, verjaardag"
        ),
        "pl": (
            "data ur, data urodzenia, dt ur, miejsce urodzenia, rok urodzenia, ur, urodz, urodzenia, urodziny, "
            "urodzona, urodzony, urodzony dnia"
        ),
    },
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
    "company": {
        "en": (
            "agency, business, client, co, comp name, company, corporation, customer, employer, enterprise, firm, "
            "firm name, legal entity, org, organisation, organization, temp agency, tenant, works for"
        ),
        "es": "cía, cliente, compañía, empleador, empresa, entidad, ett, organización, razón social, sociedad",
        "de": (
            "arbeitgeber, fa, firma, gesellschaft, konzern, kunde, mandant, organisation, unternehmen, verleiher, "
            "zeitarbeitsfirma"
        ),
        "fr": (
            "cie, client, compagnie, employeur, entité juridique, entreprise, intérim, organisation, raison sociale, "
            "société, sté"
        ),
        "pt": (
            "cliente, companhia, empregador, empresa, entidade, entidade patronal, organização, razão social, sociedade"
        ),
        "it": (
            "az, azienda, aziendale, cliente, datore di lavoro, ditta, ente, impresa, organizzazione, ragione "
            "sociale, soc, società"
        ),
        "nl": (
            "bedrijf, bv, firma, klant, onderneming, opdrachtgever, organisatie, uitzendbureau, vennootschap, werkgever"
        ),
        "pl": "agencja pracy, firma, klient, kontrahent, organizacja, podmiot, pracodawca, przedsiębiorstwo, spółka",
    },
    "contract": {
        "en": (
            "agreement, agreement type, bargaining unit, contr, contract, contract type, emp status, emp type, "
            "employee type, employment category, employment percentage, employment status, employment type, fte, full "
            "part time, full time, part time, percentage, permanent, probation, probation end, standard hours, temp "
            "perm, temporary, trial end, union, worker type, working hours contract"
        ),
        "es": (
            "contr, contrato, convenio, cto, jornada, jornada completa, modalidad de contrato, periodo de prueba, "
            "porcentaje de jornada, relación laboral, sindicato, temporal indefinido, tiempo completo, tiempo "
            "parcial, tipo de contrato, tipo de jornada, vínculo"
        ),
        "de": (
            "arbeitsverhältnis, arbeitszeit, arbeitszeitmodell, befristet, befristet bis, befristung, "
            "beschäftigungsart, beschäftigungsgrad, beschäftigungsverhältnis, gewerkschaft, personalart, probezeit, "
            "probezeitende, stellenanteil, teilzeit, vertr, vertrag, vertragsart, vertragstyp, vollzeit, vollzeit "
            "teilzeit, vz tz, vzä"
        ),
        "fr": (
            "cdi cdd, contr, contrat, convention, etp, fin de période d essai, nature du contrat, période d essai, "
            "quotité, syndicat, temps partiel, temps plein, type d emploi, type de contrat"
        ),
        "pt": (
            "contr, contrato, etc integral, modalidade de contrato, período experimental, regime, sindicato, tempo "
            "integral, tempo parcial, tipo de contrato, tipo de vínculo, vínculo"
        ),
        "it": (
            "ccnl, contr, contratto, fine prova, part time, percentuale part time, periodo di prova, sindacato, tempo "
            "determinato, tempo pieno, tipo contratto, tipo di contratto"
        ),
        "nl": (
            "arbeidsduur, contr, contract, contracttype, deeltijd, deeltijdfactor, dienstverband, einde proeftijd, "
            "fte, parttime percentage, proeftijd, soort contract, soort dienstverband, vakbond, voltijd, voltijd "
            "deeltijd"
        ),
        "pl": (
            "część etatu, etat, etatu, forma zatrudnienia, okres próbny, pełny etat, rodzaj umowy, typ umowy, umowa, "
            "umowy, wymiar, wymiar etatu, związek zawodowy"
        ),
    },
    "count": {
        "en": "amount of, cnt, count, how many, num of, number of, qty of",
        "es": "cant, cantidad, cantidad de, cuántas, cuántos, n de, núm de, número de",
        "de": "anz, anzahl, wie viele, zahl, zahl der",
        "fr": "combien, nb, nbre, nombre, nombre de",
        "pt": "número de, qtd, qtde, quantidade, quantidade de, quantos",
        "it": "n di, numero di, quante, quanti, quantità di",
        "nl": "aant, aantal, hoeveel",
        "pl": "ile, ilość, l, licz, liczba",
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
    "expiry": {
        "en": (
            "exp, exp date, exp dt, expiration, expires, expiry, expiry date, lapses, valid thru, valid to, valid until"
        ),
        "es": "caduca, caducidad, expira, expiración, fin de vigencia, vence, vencimiento, vto",
        "de": "ablauf, ablaufdatum, gültig bis, gültigkeitsende, läuft ab, verfall",
        "fr": "date de fin d effet, date limite, expiration, expire, éch, échéance, fin de validité, fin val",
        "pt": "caducidade, data final, expira, expiração, fim da vigência, validade até, vence, vencimento",
        "it": "fine validità, scad, scade, scadenza, termine validità",
        "nl": "einddatum geldigheid, geldig t m, verloopt, verv, vervaldatum, vervalt",
        "pl": "data ważności, koniec obowiązywania, termin ważności, upływa, wygasa, wygaśnięcie ważności",
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
    "gender": {
        "en": "courtesy title, gender, honorific, m f, mr ms, salutation, sex, title of person",
        "es": "gén, género, saludo, sexo, sr sra, tratamiento",
        "de": "anrede, briefanrede, geschl, geschlecht, m w, titel anrede",
        "fr": "civ, civilité, genre, m mme, sexe, titre de civilité",
        "pt": "género, gênero, saudação, sexo, tratamento",
        "it": "appellativo, genere, sesso, titolo di cortesia",
        "nl": "aanhef, aanspreektitel, geslacht, geslachtsaanduiding, m v",
        "pl": "k m, płeć, tytuł grzecznościowy, zwrot grzecznościowy",
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
    "locker": {
        "en": (
            "blood group, car, certificate, citizenship, doctor, education, emergency, emergency contact, emergency "
            "number, emergency phone, fax, ice contact, key no, lang, language, locker, locker no, nationality, next "
            "of kin, parking, photo, picture, qualification, shoe, shoe size, size, training, uniform size, union, "
            "vehicle, website"
        ),
        "es": (
            "contacto de emergencia, emergencia, estacionamiento, estudios, fax, formación, foto, grupo sanguíneo, "
            "idioma, nacionalidad, talla, talla de uniforme, taquilla, teléfono de emergencia, vehículo, zapato"
        ),
        "de": (
            "ausbildung, bild, blutgruppe, fahrzeug, fax, foto, grösse, kleidergrösse, nat, nationalität, notfall, "
            "notfallkontakt, notfallnummer, notfalltelefon, parkplatz, qualifikation, schuhgrösse, schulabschluss, "
            "spind, spindnr, sprache, staatsang, staatsangehörigkeit"
        ),
        "fr": (
            "casier, contact d urgence, diplôme, fax, formation, groupe sanguin, langue, nationalité, parking, "
            "personne à prévenir, photo, pointure, taille, télécopie, téléphone d urgence, urgence, véhicule"
        ),
        "pt": (
            "armário, cacifo, calçado, contacto de emergência, contato de emergência, emergência, escolaridade, "
            "estacionamento, fax, formação, foto, grupo sanguíneo, idioma, língua, nacionalidade, tamanho, tamanho da "
            "farda, telefone de emergência, veículo"
        ),
        "it": (
            "armadietto, cittadinanza, contatto di emergenza, emergenza, fax, formazione, foto, gruppo sanguigno, "
            "lingua, nazionalità, numero di scarpe, parcheggio, taglia, telefono di emergenza, titolo di studio, "
            "veicolo"
        ),
        "nl": (
            "bloedgroep, contact noodgeval, fax, foto, kluisje, locker, maat, maat kleding, nationaliteit, "
            "noodcontact, noodgeval, noodnummer, opleiding, parkeerplaats, schoenmaat, taal, voertuig"
        ),
        "pl": (
            "faks, grupa krwi, język, kontakt awaryjny, narodowość, nr szafki, obywatelstwo, osoba do kontaktu, "
            "parking, pojazd, rozmiar, rozmiar buta, szafka, szkolenie, telefon awaryjny, wykształcenie, zdjęcie"
        ),
    },
    "mail": {
        "en": (
            "e mail, electronic mail, email, email addr, eml, mail, mail addr, mail address, mailbox, private email, "
            "work email"
        ),
        "es": (
            "c elec, corr, correo, correo e, correo elec, correo electrónico, dirección de correo, e mail, email, mail"
        ),
        "de": (
            "e mail, e mail adr, e mail adresse, elektronische post, elektropost, em, email, epost, mail, mailadr, "
            "mailadresse, mailanschrift"
        ),
        "fr": (
            "adr mail, adresse de courriel, adresse électronique, adresse mail, cour, courriel, courrier "
            "électronique, e mail, email, mail, mess, messagerie, mél"
        ),
        "pt": (
            "corr, corr el, correio, correio eletrónico, correio eletrônico, e mail, email, endereço eletrónico, "
            "endereço eletrônico, mail"
        ),
        "it": (
            "casella di posta, e mail, email, ind mail, indirizzo e mail, indirizzo mail, mail, ml, pec, posta, posta "
            "el, posta elettronica"
        ),
        "nl": (
            "e mail, e mailadr, e mailadres, elektronisch adres, elektronische post, email, mail, mailadr, mailadres, "
            "ml"
        ),
        "pl": (
            "adr e mail, adres e mail, adres mailowy, adres poczty, e mail, email, mail, pocz, poczta, poczta "
            "elektroniczna"
        ),
    },
    "marital": {
        "en": (
            "children, church, dependants, dependents, disability, disabled, marital, marital status, married, number "
            "of children, religion, spouse"
        ),
        "es": "casado, cónyuge, discapacidad, estado civil, hijos, número de hijos, religión",
        "de": (
            "anzahl kinder, behinderung, ehepartner, familienstand, famst, kinder, kinderzahl, konfession, religion, "
            "schwerbehindert, verheiratet"
        ),
        "fr": (
            "conjoint, enfants, handicap, marié, nb enfants, nombre d enfants, religion, sit fam, situation de "
            "famille, situation familiale"
        ),
        "pt": "casado, cônjuge, deficiência, dependentes, estado civil, filhos, número de filhos, religião",
        "it": "a carico, coniugato, coniuge, disabilità, figli, numero figli, religione, stato civile",
        "nl": "aantal kinderen, burgerlijke staat, gehuwd, gezinssituatie, godsdienst, handicap, kinderen, partner",
        "pl": "dzieci, liczba dzieci, małżonek, niepełnosprawność, stan cywilny, stopień niepełnosprawności, wyznanie",
    },
    "minute": {
        "en": "mi, min, mins, minute, minutes, second, seconds, secs, ss",
        "es": "minuto, minutos, segundo, segundos",
        "de": "minute, minuten, sek, sekunde, sekunden",
        "fr": "minute, minutes, mn, seconde, secondes",
        "pt": "minuto, minutos, segundo, segundos",
        "it": "minuti, minuto, secondi, secondo",
        "nl": "minuten, minuut, seconde, seconden",
        "pl": "minuta, minuty, sek, sekunda, sekundy",
    },
    "month": {
        "en": "mo, mon, month, mth",
        "es": "mes",
        "de": "mon, monat, mt",
        "fr": "mois",
        "pt": "mês",
        "it": "mese",
        "nl": "maand, mnd",
        "pl": "mies, miesiąc",
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
    "state_number": {
        "en": (
            "driver licence, driving licence, identity card, insurance number, licence number, licence plate, "
            "national id, national insurance, national number, ni number, nino, passport, passport no, permit, sin, "
            "soc sec, social, social insurance number, social security, social security number, ssn, tax, tax code, "
            "tax id, tax number, tax ref, tin, visa, work permit"
        ),
        "es": (
            "afiliación, cédula, cuil, cuit, curp, dni, documento de identidad, documento nacional, imss, licencia de "
            "conducir, naf, nie, nif, no seguridad social, nss, número fiscal, pasaporte, permiso de trabajo, rfc, "
            "rut, seguridad social"
        ),
        "de": (
            "ahv, ahv nr, aufenthaltstitel, führerschein, kirchensteuer, krankenkasse, passnummer, personalausweis, "
            "reisepass, rentenversicherungsnummer, rvnr, sozialversicherung, sozialversicherungsnummer, steuer, "
            "steuer id, steueridentifikationsnummer, steuerklasse, steuernr, steuernummer, sv, sv nr, svnr, "
            "versicherungsnummer"
        ),
        "fr": (
            "avs, carte d identité, insee, n sécurité sociale, n ss, nas, nir, niss, nss, numéro de sécurité sociale, "
            "numéro fiscal, passeport, permis de conduire, permis de travail, registre national, sécurité sociale, "
            "titre de séjour"
        ),
        "pt": (
            "bi, bilhete de identidade, carta de condução, cartão de cidadão, carteira de trabalho, cc cidadão, cnh, "
            "contribuinte, cpf, ctps, nif, nis, niss, no contribuinte, número fiscal, pasep, passaporte, pis, rg, "
            "segurança social"
        ),
        "it": (
            "c f, carta d identità, cf, cod fisc, codice fiscale, codice tributario, documento di identità, inail, "
            "inps, partita iva, passaporto, patente, permesso di soggiorno, tessera sanitaria"
        ),
        "nl": (
            "belasting, bsn, burgerservicenummer, fiscaal nummer, identiteitskaart, insz, loonheffing, "
            "loonheffingsnummer, paspoort, rijbewijs, rijksregister, rijksregisternummer, sofi, sofinummer, "
            "verblijfsvergunning"
        ),
        "pl": (
            "dowód osobisty, nfz, nip, nr dowodu, nr paszportu, numer pesel, numer zus, paszport, pesel, podatek, "
            "prawo jazdy, seria dowodu, ubezpieczenia, urząd skarbowy, zezwolenie na pracę, zus"
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
    "town": {
        "en": (
            "addr2, address line 2, address line 3, city, country, county, municipality, parish, post code, postal, "
            "postal code, postcode, province, region, state, suburb, territory, town, zip, zip code"
        ),
        "es": (
            "barrio, c p, ciu, ciudad, colonia, comuna, comunidad, código postal, cp, localidad, municipio, país, "
            "pob, población, postal, prov, provincia, región"
        ),
        "de": "bundesland, gemeinde, kanton, kreis, land, landkreis, ortsteil, plz, plz ort, postleitzahl, stadt",
        "fr": (
            "c p, canton, code postal, commune, cp, département de résidence, localité, pays, province, région, "
            "ville, vle"
        ),
        "pt": (
            "bairro, cep, cid, cidade, concelho, código postal, cp, distrito, estado de residência, freguesia, "
            "localidade, município, país, província, uf"
        ),
        "it": (
            "cap, città, codice postale, comune, frazione, località di residenza, nazione, paese, prov, provincia, "
            "regione, stato di residenza"
        ),
        "nl": "deelgemeente, gemeente, land, pc, plaatsnaam, postcode, provincie, regio, stad, woonplaatsnaam",
        "pl": "gmina, kod pocztowy, kraj, miasto, miejscowość, powiat, region, woj, województwo",
    },
    "weekday": {
        "en": "day name, day of the week, day of week, dayname, dow, weekday, wkday",
        "es": "diasem, día de la semana, día sem, nombre del día",
        "de": "tagname, wochentag, wotag, wt",
        "fr": "jour de la semaine, jour sem, nom du jour",
        "pt": "dia da semana, dia sem, nome do dia",
        "it": "gg sett, giorno della settimana, giorno sett",
        "nl": "dag van de week, naam dag, weekdag",
        "pl": "dz tyg, dzień tygodnia",
    },
    "work": {
        "en": "job, labor, labour, wk, wks, work, worked, working",
        "es": "laborable, laborado, laboral, trab, trabajo",
        "de": "arbeit, arbeits, arbeitsverhältnis, dienst, dienstlich",
        "fr": "activité, emploi, professionnel, trav, travail",
        "pt": "actividade, atividade, emprego, laboral, serviço, trab, trabalho",
        "it": "impiego, lav, lavorativa, lavorativo, lavoro, rapporto, servizio",
        "nl": "arbeid, dienst, tewerkstelling, werk, werkzaam",
        "pl": "praca, pracę, pracy, robocza, robocze, roboczy",
    },
    "year": {
        "en": "year, yr, yyyy",
        "es": "año, ejercicio",
        "de": "jahr, jjjj, jr",
        "fr": "aaaa, an, année",
        "pt": "ano",
        "it": "anno",
        "nl": "jaar, jjjj",
        "pl": "rok, rrrr",
    },
}
