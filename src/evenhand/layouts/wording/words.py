"""The words of which headers are made, by what they mean, in eight languages.

A meaning is named here by an English word of our own; `concepts` says what meanings make together. Each text lists, by
language (en, es, de, fr, pt, it, nl, pl), whole words and usual abbreviations; plurals, compounds and cut words need no
entry. Umlauts may also be written as ae, oe, ue. The words for day and hour are those of Unicode CLDR (units
duration-day and duration-hour); all others are common practice, no source.
"""

from __future__ import annotations

__all__ = ["MEANINGS", "SILENT"]

# Words that part others and mean nothing by themselves, unless the header has no other.
SILENT = (
    "a an the of for at on by de del la las los el lo d l der die das den des du le les do da dos das di della "
    "dello delle van het een z w y e et und i oder or o en im am zum zur local usual our s es is ist est"
)

MEANINGS: dict[str, str] = {
    # ---- what a column is of
    "employee": "en employee, emp, empl, ee, staff, worker, associate, personnel, person, team member, crew member | "
    "es empleado, empleada, trabajador, trabajadora, personal, persona, operario, colaborador, empl, trab | de "
    "personal, pers, mitarbeiter, mitarbeiterin, mitarb, ma, person, beschäftigte, arbeitnehmer | fr employé, "
    "employée, salarié, salariée, personnel, agent, collaborateur, personne, empl | pt funcionário, funcionária, "
    "empregado, colaborador, pessoa, trabalhador, func, trab | it dipendente, addetto, lavoratore, persona, personale, "
    "impiegato, dip | nl medewerker, werknemer, personeel, personeels, persoon, medew, werkn, mdw | pl pracownik, "
    "pracownika, pracownicy, osoba, osoby, pracowniczy, personalny, prac, kadrowy, kadrowa, kadry",
    "staff_number": "en file number, file no, staff no, works number | es legajo, expediente, matrícula | de pnr, "
    "persnr, stammnummer, stammnr | fr matricule, mle | pt matrícula | it matricola, matr | nl stamnummer, "
    "personeelsnr | pl nr ewidencyjny, numer ewidencyjny",
    "payroll": "en payroll, payee | es nómina, planilla | de lohn, lohnbuch, abrechnung | fr paie, paye | pt folha, "
    "folha de pagamento | it paghe, busta paga | nl salaris, loonadministratie | pl płace, lista płac",
    "badge": "en badge, card, keycard, fob, keyed, pin, pass, keypad, keypad number, hand number | es tarjeta, "
    "credencial, gafete, carnet, ficha, marcaje | de ausweis, karte, dienstausweis, stempelkarte, chip, stempel, "
    "kennnummer | fr badge, carte, pointage | pt crachá, cartão, crachat, ponto | it tesserino, tessera, cartellino, "
    "badge, timbratura | nl badge, pas, pasje, kaart, toegangspas, klok | pl karta, karty, identyfikator, przepustka, "
    "rejestracyjny, rcp",
    "number": "en number, no, num, nbr, nr, numb | es número, num, núm, nro, no, n | de nummer, nr | fr numéro, num, "
    "no, n, nº | pt número, num, n, nº | it numero, num, n, nr | nl nummer, nr | pl numer, nr",
    "identifier": "en id, identifier, ident, identification, uid | es identificador, identificación, id | de kennung, "
    "kennzeichen, kennnummer | fr identifiant, ident | pt identificador, identificação | it identificativo, "
    "identificatore | nl identificatie, kenmerk | pl identyfikator, ident",
    "code": "en code, key | es código, cód, clave | de kode, schlüssel, kürzel | fr code | pt código, cód | it "
    "codice, cod | nl code, sleutel | pl kod",
    "digit": "en digit | es dígito, cifra | de stelle, ziffer | fr chiffre | pt dígito, algarismo | it cifra, cifre | "
    "nl cijfer, cijfers | pl cyfra, cyfry, cyfr",
    "length": "en length, width | es longitud, largo | de länge | fr longueur | pt comprimento | it lunghezza | nl "
    "lengte | pl długość",
    "most": "en max, maximum, longest, upto | es máx, máximo | de max, maximal, höchste | fr max, maximum | pt máx, "
    "máximo | it max, massimo, massime | nl max, maximum | pl maks, max, maksymalna",
    # ---- names
    "name": "en name, last name first name | es nombre, nombre y apellidos, apellidos y nombre | de name, namen, vor "
    "und nachname | fr nom, nom et prénom, prénom et nom | pt nome, nome e apelido | it nome, nominativo, nome e "
    "cognome, cognome e nome | nl naam, namen, voor en achternaam | pl nazwa, imię i nazwisko, nazwisko i imię",
    "whole": "en full, complete, display | es completo, completa | de voll, vollständig, vollständiger, ganzer | fr "
    "complet, entier | pt completo | it completo | nl volledig, volledige | pl pełne, pełna, pełny",
    "family_name": "en last name, surname, family name, lastname, lname, last | es apellido, primer apellido | de "
    "nachname, familienname, zuname | fr nom de famille, nom usuel | pt apelido, sobrenome, último nome | it cognome | "
    "nl achternaam, familienaam | pl nazwisko",
    "given_name": "en first name, given name, forename, firstname, fname, first | es nombre de pila, primer nombre | "
    "de vorname, rufname | fr prénom | pt nome próprio, primeiro nome | it nome di battesimo | nl voornaam, roepnaam | "
    "pl imię",
    "middle_name": "en middle name, middle initial, mi, initials, suffix | es segundo nombre, segundo apellido | de "
    "zweiter vorname | fr deuxième prénom | pt nome do meio | it secondo nome | nl tussenvoegsel | pl drugie imię",
    # ---- where
    "site": "en site, location, loc, plant, building, facility, campus, branch, works, premises | es sede, sitio, "
    "planta, centro, centro de trabajo, ubicación, localización | de standort, werk, betrieb, betriebsstätte, "
    "niederlassung, filiale, arbeitsort, arbeitsstätte, nl, stao, sto | fr site, établissement, usine, lieu de "
    "travail, agence, lieu d affectation | pt sede, unidade, filial, fábrica, estabelecimento, local de trabalho, fil, "
    "local | it sede, stabilimento, sito, filiale | nl locatie, vestiging, fabriek, standplaats | pl lokalizacja, "
    "zakład, oddział, obiekt, miejsce pracy, placówka",
    "place": "en place, where, door, entrance, gate, position, pos, hangs | es lugar, puerta, acceso, posición | de "
    "ort, tür, tor, platz, einbauort | fr lieu, porte, emplacement, endroit | pt lugar, porta, portão, local, posição "
    "| it luogo, porta, posto, posizione | nl plaats, plek, deur, poort | pl miejsce, drzwi, brama",
    "department": "en department, dept, dpt, division, div, section, org unit, team, crew, dep | es departamento, "
    "depto, dpto, área, sección, equipo de trabajo, secc | de abteilung, abt, bereich, ressort, abtlg, team, "
    "arbeitsgruppe | fr service, département, atelier, dépt, svc, équipe de travail, sect | pt departamento, depto, "
    "setor, seção, dep, dpto, set, equipa, equipe | it reparto, dipartimento, settore, rep, squadra, ufficio | nl "
    "afdeling, afd, ploeg, team, groep | pl dział, wydział, dz, zespół, brygada",
    "cost_centre": "en cost centre, cost center, costctr, cc | es centro de coste, centro de costo, centro de costos "
    "| de kostenstelle, kst | fr centre de coût, centre de coûts | pt centro de custo, centro de custos | it centro di "
    "costo | nl kostenplaats | pl mpk, centrum kosztów",
    "address": "en address, addr, street, residence, addr1, address line, home address | es dirección, domicilio, "
    "calle, dom | de adresse, anschrift, straße, wohnort, str | fr adresse, rue, domicile | pt endereço, morada, rua, "
    "end | it indirizzo, via, residenza, ind | nl adres, straat, woonadres, adr | pl adres, ulica, adr",
    "phone": "en phone, telephone, tel, mobile, cell, cellphone, telephone number, ph | es teléfono, tel, móvil, "
    "celular, tfno | de telefon, tel, handy, mobil, rufnummer, mobilnummer | fr téléphone, tél, portable | pt "
    "telefone, tel, telemóvel, celular | it telefono, tel, cellulare | nl telefoon, tel, mobiel, gsm | pl telefon, "
    "tel, tel kom",
    # ---- what a person is
    "supervisor": "en supervisor, supv, superv, is supervisor | es supervisor, supervisora, encargado, encargada | de "
    "aufsicht, ist vorgesetzter, aufsichtsperson, einlernbefugt | fr superviseur, encadrant | pt supervisor, "
    "encarregado | it supervisore | nl toezichthouder, supervisor | pl nadzór, nadzorca, brygadzista",
    "role": "en role | es rol, función | de rolle, aufgabe | fr rôle | pt papel, função, fun | it ruolo | nl rol | pl "
    "rola",
    "level": "en level, authority, rights, privilege, permission, access level | es nivel, permiso, autoridad, "
    "autorización | de stufe, rechte, ebene, berechtigung, befugnis | fr niveau, droits, habilitation | pt nível, "
    "permissão, autorização | it livello, permesso, autorizzazione | nl niveau, rechten, bevoegdheid | pl poziom, "
    "uprawnienia",
    "manager": "en manager, mgr, reports to, line manager, boss, superior, supervisor name, approver, supv name, team "
    "lead, team leader, direct manager | es jefe, jefa, responsable, superior, gerente, jefe directo, jefa directa, "
    "encargado directo | de vorgesetzter, vorgesetzte, führungskraft, leiter, vorges, teamleitung, teamleiter, leitung "
    "| fr responsable, chef, supérieur, responsable hiérarchique, n 1, chef d équipe | pt gestor, chefe, gerente, "
    "gest, superior, superior hierárquico, encarregado direto | it responsabile, capo, superiore, resp, caporeparto, "
    "capo reparto, diretto superiore | nl leidinggevende, chef, leidingg, teamleider | pl kierownik, przełożony, "
    "przełożona, przełożonego, bezpośredni przełożony, przeł",
    "title": "en title, job title, position title, job, occupation, grade, ttl, post | es puesto, cargo, categoría | "
    "de stelle, tätigkeit, beruf, funktion, position, berufsbezeichnung, stellenbez | fr poste, emploi, fonction, fct "
    "| pt cargo, posto | it mansione, qualifica, incarico, mans | nl functie, beroep, func | pl stanowisko, funkcja, "
    "stan, stanow",
    # ---- from when to when
    "hire": "en hire, hired, hire date, joined, join, joining, doj, employed, employment, seniority, onboarding, "
    "commenced, doh, date of joining | es alta, ingreso, contratación, incorporación, antigüedad, ingr | de eintritt, "
    "einstellung, betriebszugehörigkeit, beschäftigt seit, eingestellt, einst, eintr | fr embauche, ancienneté, "
    "engagement, emb | pt admissão, contratação, ingresso, adm | it assunzione, assunto, assunta, ingresso, ass | nl "
    "indienst, in dienst, indiensttreding, aanstelling, ind | pl zatrudnienia, zatrudnienie, zatrudniony, zatrudniona, "
    "przyjęcia, zatr",
    "leave": "en left, leave, leaver, leaving, term, termination, terminated, separation, offboarding, resigned, last "
    "day, doe | es baja, egreso, cese, desvinculación, egr | de austritt, ausscheiden, ausgeschieden, kündigung, "
    "letzter tag, austr | fr départ, fin de contrat, départ de, dép, date de sortie | pt demissão, desligamento, "
    "rescisão, saída da empresa, dem, desl | it cessazione, dimissione, dimissioni, cessato, fine rapporto, cess, "
    "dimiss | nl uitdienst, uit dienst, uitdiensttreding, ontslag, vertrek, uitd | pl zwolnienia, zwolnienie, "
    "zwolniony, odejścia, rozwiązania umowy",
    "start": "en start, starts, from, begin, begins, commence, since | es inicio, desde, comienzo, comienza | de "
    "beginn, von, start, anfang, ab, seit, beginnt | fr début, depuis, commence | pt início, desde, começo | it "
    "inizio, dal, dalle, da | nl begin, vanaf, van, start, aanvang, sinds | pl początek, od, rozpoczęcia, rozpoczęcie",
    "end": "en end, ends, to, until, till, finish, through, thru | es fin, hasta, término, termina | de ende, bis, "
    "endet, schluss | fr fin, jusqu, jusqu à, à, au | pt fim, até, término | it fine, al, alle, fino | nl eind, einde, "
    "tot | pl koniec, do, zakończenia, zakończenie",
    "in": "en in, entry, arrival, clock in, check in, entering | es entrada, llegada, ent | de kommen, eingang, ein, "
    "zugang, ankunft | fr entrée, arrivée | pt entrada, chegada, ent | it entrata, arrivo, ingresso | nl in, inkomend, "
    "aankomst, ingang, komen | pl wejście, przyjście, wejścia, we",
    "out": "en out, exit, departure, clock out, check out, leaving | es salida, egreso, sal | de gehen, ausgang, aus, "
    "abgang | fr sortie | pt saída, sai | it uscita | nl uit, uitgaand, uitgang, gaan | pl wyjście, wyjścia, wy",
    "date": "en date, day, dt | es fecha, día, fec | de datum, tag, dat | fr date, jour | pt data, dia, dt | it data, "
    "giorno | nl datum, dag, dat | pl data, dzień, dnia",
    "time": "en time, hour, tm, hr | es hora, hr | de uhrzeit, zeit, stunde, uhr, uhrz | fr heure, hre | pt hora, "
    "horário, hr | it ora, orario, or, h | nl tijd, uur, tijdstip van boeking | pl godzina, godz, czas",
    "moment": "en datetime, timestamp, date time, when, instant, moment, ts | es fecha hora, marca de tiempo, momento "
    "| de zeitpunkt, zeitstempel, datumzeit | fr horodatage, moment | pt data hora, carimbo, momento | it data ora, "
    "istante, momento | nl tijdstip, tijdstempel, datumtijd | pl znacznik czasu, data godzina, moment",
    "zone": "en zone, time zone, timezone, tz, tzone | es zona, zona horaria, huso horario | de zone, zeitzone, tz | "
    "fr fuseau, fuseau horaire | pt fuso, fuso horário | it fuso, fuso orario | nl zone, tijdzone | pl strefa, strefa "
    "czasowa",
    # ---- readers and what they list
    "reader": "en reader, device, terminal, unit, scanner, station, dev, term, rdr, reader name | es lector, "
    "dispositivo, terminal, equipo, term, disp | de leser, gerät, lesegerät, terminal, term, ger | fr lecteur, "
    "appareil, borne, terminal, lect, term | pt leitor, dispositivo, terminal, aparelho, term, leit, equipamento, "
    "equip | it lettore, dispositivo, terminale, apparecchio, lett, term | nl lezer, apparaat, terminal, term | pl "
    "czytnik, urządzenie, terminal, rejestrator, czyt, term",
    "clock": "en clock, clk | es reloj | de uhr, stechuhr | fr horloge, pointeuse | pt relógio | it orologio | nl "
    "klok, prikklok | pl zegar",
    "capacity": "en capacity, cap, max users, users, places, memory, slots | es capacidad, plazas, usuarios | de "
    "kapazität, plätze, benutzer, personen, speicherplätze | fr capacité, places, utilisateurs, personnes | pt "
    "capacidade, vagas, utilizadores, usuários | it capacità, capienza, posti, utenti | nl capaciteit, plaatsen, "
    "gebruikers | pl pojemność, miejsc, użytkowników, osób",
    "enrol": "en enrolled, enrolment, enrollment, enroled, added, registered, captured, taught, reg | es inscrito, "
    "inscrita, inscripción, registrado, registrada, registro de mano | de erfasst, angelernt, eingelernt, aufgenommen, "
    "registriert, reg | fr inscrit, inscrite, inscription, enregistré, enrôlé, enrôlement, ajouté, enr | pt inscrito, "
    "inscrição, registado, registrado, cadastro, reg | it iscritto, iscrizione, registrato, acquisito, reg | nl "
    "ingeschreven, inschrijving, geregistreerd, aangemeld, reg | pl zarejestrowany, zarejestrowano, rejestracja, "
    "rejestracji, dodano, dodania, rej",
    "presentation": "en presentation, try, tries, placement, attempt, sample, placements | es intento, presentación, "
    "colocación, muestra, int, pres | de versuch, auflage, darbietung, vorlage, vorlagen, vers, vorl, darb | fr essai, "
    "présentation, tentative, échantillon, pose, prés | pt tentativa, apresentação, amostra, tent | it tentativo, "
    "presentazione, campione, rilevazione, tent | nl poging, aanbieding, opname, plaatsing | pl próba, prób, próby, "
    "przyłożenie, przyłożeń",
    "punch": "en punch, clocking, clocked, log, logged, event, stamp, swipe, transaction, registration, hand | es "
    "marcación, fichaje, marca, registro, evento, picada, mano | de stempel, stempelung, buchung, ereignis, hand | fr "
    "pointage, badgeage, événement, main | pt marcação, ponto, batida, registo, registro, evento, mão | it timbratura, "
    "evento, mano | nl klokking, boeking, registratie, gebeurtenis, hand | pl odbicie, zdarzenie, zdarzenia, dłoni, "
    "dłoń",
    "direction": "en direction, dir, io, way, i o | es e s, sentido, movimiento, mov, dirección de paso, mvto | de "
    "richtung, k g, ri, bewegung | fr sens, e s, mvt, mouvement | pt e s, sentido, direção, movimento, mov | it verso, "
    "direzione, movimento, vs | nl richting, richt | pl kierunek, kier",
    "type": "en type, kind, category, action, function | es tipo, acción, clase | de art, typ | fr type, nature | pt "
    "tipo, ação | it tipo, tipologia | nl soort, type, actie | pl typ, rodzaj",
    "outcome": "en outcome, result, accepted, verdict, verified, granted, decision, response, res | es resultado, "
    "aceptado, aceptada, res | de ergebnis, resultat, angenommen, akzeptiert, erg, erkennung | fr résultat, accepté, "
    "acceptée, rés | pt resultado, aceite, aceito | it esito, risultato, accettato, es | nl resultaat, uitslag, "
    "geaccepteerd, uitk | pl wynik, rezultat, przyjęto, wyn",
    "status": "en status, state, active | es estado, estatus, activo | de status, zustand, aktiv | fr statut, état, "
    "actif | pt estado, situação, status, ativo | it stato, attivo | nl status, toestand, actief | pl stan, status, "
    "aktywny",
    "score": "en score, dissimilarity, distance, scr, deviation, diff | es puntaje, puntuación, valor, desviación, "
    "punt, puntos | de wert, punktwert, abweichung, abw, abweichungswert, punkte | fr score, écart, note de "
    "comparaison, éc, points | pt pontuação, desvio, pontos | it punteggio, scarto, scost, scostamento, punti | nl "
    "score, afwijking, afw, punten | pl punktacja, punkty, odchylenie",
    # ---- shifts, consent
    "shift": "en shift, schedule, scheduled, planned, rostered, roster, rota, duty | es turno, previsto, prevista, "
    "horario | de schicht, dienst, soll, geplant, plan | fr équipe, prévu, prévue, planning | pt turno, escala, "
    "previsto | it turno, previsto, previsti | nl rooster, gepland, ploeg | pl zmiana, zmiany, grafik, plan",
    "consent": "en consent, consented, agreement date | es consentimiento, consentido, conformidad | de einwilligung, "
    "zustimmung, eingewilligt, zugestimmt, einverständnis | fr consentement, consenti, accord | pt consentimento, "
    "consentido | it consenso, consentito | nl toestemming, akkoord | pl zgoda, zgody, wyrażenia zgody",
    "signed": "en signed, given, agreed, signature | es firmado, firma, otorgado | de unterschrieben, unterzeichnet, "
    "erteilt, unterschrift | fr signé, signature, donné | pt assinado, assinatura | it firmato, firma, rilasciato | nl "
    "ondertekend, getekend, gegeven | pl podpisano, podpisania, podpis, udzielono, udzielenia",
    "form": "en form, version, document, doc, form version | es formulario, versión, documento, modelo, mod | de "
    "formular, fassung, version, vordruck, muster, form | fr formulaire, version, document, modèle, mod, form | pt "
    "formulário, versão, modelo, mod | it modulo, versione, modello, mod | nl formulier, versie, model, form | pl "
    "formularz, wersja, druk, wzór",
    "withdrawn": "en withdrawn, revoked, withdrawal, revocation, rescinded | es retirado, revocado, retirada, "
    "revocación | de widerrufen, widerruf, zurückgezogen | fr retiré, révoqué, retrait, révocation | pt retirado, "
    "revogado, revogação | it revocato, ritirato, revoca, ritiro | nl ingetrokken, intrekking | pl wycofano, "
    "wycofania, odwołano, cofnięto, cofnięcia",
    # ---- pay
    "rate": "en rate, wage, pay rate, salary rate | es tarifa, salario, sueldo, precio | de satz, lohn, verdienst, "
    "preis | fr taux, salaire, prix, tx | pt taxa, salário, remuneração, preço | it tariffa, paga, retribuzione, "
    "prezzo | nl loon, tarief, prijs, trf | pl stawka, płaca, cena, staw",
    "hourly": "en hourly, per hour | es por hora | de stündlich | fr horaire | pt por hora | it oraria, orario | nl "
    "per uur | pl godzinowa",
    "pay": "en pay, paid, compensation | es pago, paga | de entgelt, vergütung, bezahlung | fr rémunération | pt "
    "pagamento | it pagamento | nl betaling, beloning | pl wynagrodzenie",
    "amount": "en amount, amt, salary, sum | es importe, monto, cantidad, imp | de betrag, summe, betr | fr montant, "
    "somme, mt, mnt | pt valor, montante, quantia, vlr, valor hora | it importo, ammontare, somma, imp | nl bedrag, "
    "bedr | pl kwota, kw",
    "valid": "en valid, effective, eff | es vigente, vigencia, efectivo, validez, vig, efecto, aplicable | de gültig, "
    "wirksam, gült, gültigkeit, inkrafttreten | fr valable, effet, validité, eff, application, prise d effet | pt "
    "vigente, vigência, validade, válido, vig, efeito | it valido, validità, decorrenza, dec, vigore, efficacia | nl "
    "geldig, ingang, gld, ingaand | pl ważny, ważne, obowiązuje, obowiązywania, ob, obow, wejścia w życie",
    "plan": "en plan, basis, pay plan, paid by | es base de pago, modalidad | de entgeltart, lohnform | fr mode de "
    "rémunération | pt forma de pagamento | it forma di retribuzione | nl loonvorm | pl forma wynagrodzenia",
    "period": "en period, salary period, salary for | es periodo, período | de zeitraum | fr période | pt período | "
    "it periodo | nl periode | pl okres",
    "weekly": "en weekly, week | es semanal, semanales, semana | de wochen, woche, wöchentlich | fr hebdomadaire, "
    "semaine | pt semanal, semanais, semana | it settimanale, settimanali, settimana | nl week, wekelijks | pl "
    "tygodniowo, tygodniowy",
    "hours": "en hours, hrs | es horas | de stunden, std | fr heures | pt horas | it ore | nl uren | pl godziny, "
    "godzin",
    "covers": "en covers, covered | es cubre, cubiertas | de abgedeckt | fr couvre, couvertes | pt cobre, cobertas | "
    "it copre | nl gedekt | pl objęte",
    "floor": "en floor, guaranteed, guarantee | es garantizada, garantía | de garantiert, garantie | fr garanti | pt "
    "garantido | it garantita | nl gegarandeerd | pl gwarantowana",
    "earned": "en earned, bonus, bonus period | es ganado, devengado, devengo | de verdient, erworben | fr gagné, "
    "acquis | pt ganho, auferido | it maturato, guadagnato | nl verdiend | pl zarobione, zarobiono",
    "pay_kind": "en earning, kind of pay, pay code | es concepto | de lohnart, entgeltart | fr rubrique | pt rubrica, "
    "verba | it voce, voce paga | nl looncomponent | pl składnik",
    "unit": "en units, pieces, jobs, quantity, qty | es piezas, unidades | de stück, stückzahl, menge | fr pièces, "
    "unités, quantité | pt peças, unidades, quantidade | it pezzi, quantità | nl stuks, aantal | pl sztuki, sztuk, "
    "ilość",
    "label": "en label, description, desc | es descripción, etiqueta | de bezeichnung, beschreibung | fr libellé, "
    "désignation | pt descrição | it descrizione | nl omschrijving | pl opis",
    # ---- what files carry beside, and no table here has a place for
    "birth": "en birth, birthday, birthdate, dob, born | es nacimiento, nac | de geburt, geburtstag, geburtsdatum, "
    "geb, geboren | fr naissance, né | pt nascimento, nasc | it nascita | nl geboorte, geboren | pl urodzenia, "
    "urodzony, ur",
    "mail": "en email, e mail, mail | es correo, correo electrónico | de mail, mailadresse | fr courriel, mél | pt e "
    "mail, correio | it posta, posta elettronica | nl mail, mailadres | pl mail, poczta",
    "account": "en iban, account, bank, bic, swift, routing | es cuenta, banco, cta, cuenta bancaria, ccc | de konto, "
    "bank, bankverbindung, kto, bankkonto | fr compte, banque, cpte | pt conta, banco, cta | it conto, banca, cc "
    "bancario | nl rekening, bank, rek | pl konto, rachunek",
    "state_number": "en ssn, social security, tax, tax id, national id, passport | es dni, nif, nss, curp, seguridad "
    "social, pasaporte | de steuer, steuernummer, sozialversicherung, svnr, sv | fr sécurité sociale, nir, insee | pt "
    "cpf, nif, niss, contribuinte | it codice fiscale, cf | nl bsn, burgerservicenummer | pl pesel, nip",
    "row": "en row, line, seq, sequence, record, index, rec, item | es fila, orden, línea | de zeile, lfd, lfd nr, "
    "laufende | fr ligne, rang | pt linha, ordem | it riga, progressivo | nl regel, volgnummer, rij | pl lp, wiersz",
    "weekday": "en weekday, day of the week, dow | es día de la semana | de wochentag | fr jour de la semaine | pt "
    "dia da semana | it giorno della settimana | nl dag van de week, weekdag | pl dzień tygodnia",
    "gender": "en gender, sex | es sexo, género | de geschlecht, anrede | fr sexe, genre, civilité | pt sexo, género, "
    "gênero | it sesso, genere | nl geslacht, aanhef | pl płeć",
    "town": "en city, town, zip, postcode, postal, county, country, region | es ciudad, población, provincia, país, "
    "postal | de stadt, plz, postleitzahl, land, bundesland | fr ville, code postal, pays | pt cidade, cep, país, "
    "distrito | it città, provincia, paese | nl stad, postcode, land, gemeente | pl miasto, miejscowość, kraj",
    "remark": "en comment, note, remark, memo, reason, cmt, rmk | es observación, observaciones, nota, comentario, "
    "motivo, obs | de bemerkung, notiz, hinweis, kommentar, grund, anmerkung, bem, anm, notizen | fr remarque, "
    "commentaire, observation, motif, obs, note | pt observação, observações, obs, comentário, motivo, notas, nota | "
    "it nota, osservazione, motivo, oss, annotazione, annotazioni | nl opmerking, notitie, reden, toelichting, opm | "
    "pl uwagi, uwaga, komentarz, powód, kom",
    "change": "en updated, modified, changed, created, exported, printed, import | es actualizado, modificado, creado "
    "| de geändert, erstellt, aktualisiert, änderung | fr modifié, créé | pt atualizado, criado, alterado | it "
    "aggiornato, modificato, creato | nl gewijzigd, aangemaakt | pl zmieniono, utworzono",
    "contract": "en contract, agreement, fte, full time, part time | es contrato, jornada | de vertrag, vertragsart, "
    "arbeitszeit | fr contrat | pt contrato, vínculo | it contratto | nl contract, dienstverband | pl umowa, umowy, "
    "etat",
    "break": "en break, lunch, meal, pause | es descanso, comida, pausa | de pause | fr pause, repas | pt pausa, "
    "intervalo, almoço | it pausa, pranzo | nl pauze | pl przerwa",
    "sum": "en total, worked, balance, overtime, regular | es total, trabajadas, saldo, extra | de gesamt, ist, "
    "saldo, überstunden | fr total, solde, supplémentaires | pt total, saldo, trabalhadas | it totale, saldo, "
    "straordinario | nl totaal, saldo, overuren | pl razem, suma, saldo, nadgodziny",
    "firmware": "en firmware, ip, mac, serial, model, software, port | es serie, modelo | de seriennummer, modell, "
    "hersteller | fr série, modèle | pt série, modelo | it matricola apparecchio, seriale, modello | nl serienummer, "
    "model | pl seryjny, model",
    "locker": "en locker, size, shoe, language, union, nationality, emergency, emergency contact | es taquilla, "
    "talla, idioma, nacionalidad | de spind, größe, sprache, nationalität, staatsangehörigkeit | fr casier, taille, "
    "langue, nationalité | pt cacifo, armário, tamanho, idioma, nacionalidade | it armadietto, taglia, lingua, "
    "nazionalità | nl kluisje, maat, taal, nationaliteit | pl szafka, rozmiar, język, narodowość",
    "checksum": "en checksum, check, chk, crc, check value, hash, ctrl | es suma de control, control, verificación | "
    "de prüfsumme, prüf, prüfziffer | fr somme de contrôle, contrôle, ctrl | pt soma de verificação, verificação, "
    "controlo, controle | it somma di controllo, controllo, ctrl | nl controlegetal, controle, controlesom | pl suma "
    "kontrolna, kontrolna, kontrola",
    "age": "en age, years | es edad, años | de alter, jahre | fr âge | pt idade | it età | nl leeftijd | pl wiek",
    "count": "en count, qty of, number of, how many | es cantidad de, n de | de anzahl, anz | fr nombre, nb | pt "
    "quantidade de, qtd | it quantità di, numero di | nl aantal | pl liczba, ilość",
}
