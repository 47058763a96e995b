"""Words for people: what they are called and known by, what they do, from when to when. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_PEOPLE"]

OF_PEOPLE: dict[str, dict[str, str]] = {
    "address": {
        "en": (
            "addr, addr 1, addr1, address, address line, address line 1, adr, domicile, dwelling, home addr, home "
            "address, home street, house number, lives at, living at, mail addr, mailing address, permanent address, "
            "postal address, private address, res addr, residence, residential address, st addr, street, street "
            "address, street and number, street name"
        ),
        "es": (
            "calle, calle núm, calle y número, dir, dir postal, direc, direcc, dirección, dirección de casa, "
            "dirección particular, dirección postal, dom, dom part, domic, domicilio, domicilio legal, domicilio "
            "particular, residencia, señas, vivienda, vía"
        ),
        "de": (
            "adr, adresse, anschr, anschrift, hausnummer, hnr, meldeadresse, postadresse, postanschrift, "
            "privatadresse, privatanschrift, str, str hnr, strasse, strasse hausnr, strasse nr, strasse und "
            "hausnummer, wohnadr, wohnadresse, wohnanschrift, wohnhaft, wohnort, wohnort und strasse, wohnsitz"
        ),
        "fr": (
            "adr, adr post, adresse, adresse dom, adresse du domicile, adresse personnelle, adresse postale, "
            "coordonnées postales, demeurant, domic, domicile, lieu de résidence, n et rue, numéro et rue, résidence, "
            "rue, voie"
        ),
        "pt": (
            "avenida, domicílio, end, ender, endereço, endereço postal, endereço residencial, local de residência, "
            "logr, logradouro, mor, morada, morada de residência, resid, residência, rua, rua e número"
        ),
        "it": (
            "abita, abitazione, civico, dom, domic, domicilio, dove abita, ind, indir, indirizzo, indirizzo di casa, "
            "indirizzo di residenza, luogo di residenza, numero civico, recapito postale, res, resid, residenza, via, "
            "via civico, via e numero, via e numero civico, via n"
        ),
        "nl": (
            "adr, adres, adresgegevens, domicilie, huisnr, huisnummer, postadres, privéadres, str, straat, straat en "
            "huisnummer, straat en nr, straat huisnr, straatnaam, thuisadres, verblijf, verblijfadres, "
            "verblijfplaats, woonadr, woonadres, woonplaats, woonplaats en straat"
        ),
        "pl": (
            "adr, adr zam, adres, adres domowy, adres korespondencyjny, adres zameldowania, adres zamieszkania, "
            "miejsce pobytu, miejsce zamieszkania, nr domu, numer domu, pobyt, ul, ulica, ulica i nr domu, ulica i "
            "numer, ulica nr, zamieszk, zamieszkanie, zamieszkały"
        ),
    },
    "badge": {
        "en": (
            "access card, access code, access number, badge, badgeno, bdg, bdge, card, cardno, clock card, clock in "
            "code, clock in id, clock in number, clocking number, crd, credential, entered number, entry code, fob, "
            "hand code, hand id, hand key, hand number, id card, id number keyed, key code, keycard, keycode, keyed, "
            "keyed code, keyed id, keyed number, keypad, keypad code, keypad number, pass, pass code, passcode, pin, "
            "pin code, pin number, pinno, prox, proximity card, punch id, reader number of person, smart card, swipe "
            "card, tag, terminal number, time card, token, typed number, user code, user number, user pin"
        ),
        "es": (
            "carnet, clave de acceso, clave de fichar, clave de marcación, clave de reloj, contraseña de reloj, "
            "código de acceso, código de ficha, código de fichaje, código de marcación, código de marcaje, código de "
            "reloj, código tecleado, cred, credencial, distintivo, ficha, fichero, gaf, gafete, ident de fichaje, "
            "identificación de acceso, llave, marcaje, nip, número de fichaje, número de marcación, número de "
            "marcaje, número de reloj, número tecleado, pin, pin de reloj, tarj, tarjeta, tarjeta de acceso, tarjeta "
            "de fichaje"
        ),
        "de": (
            "ausw, ausweis, ausweisnr, buchungsnummer person, chip, chipkarte, chipnummer, code am leser, "
            "dienstausweis, eingabe nr, eingabenummer, geheimzahl, handnummer, karte, karten, kartennr, kennnummer, "
            "kennzahl, lesernummer der person, pin, pin code, stechkarte, stempel, stempelkarte, stempelkarten, "
            "stempelnummer, tastatur, tastaturnummer, tastencode, tastennummer, terminal nr, terminalnummer, token, "
            "transponder, zeit nr, zeitausweis, zeiterfassungsnummer, zeitkarte, zeitnummer, zugangscode, "
            "zugangsnummer, zutritt nr, zutrittsausweis, zutrittscode, zutrittskarte, zutrittskennung, "
            "zutrittskennzeichen, zutrittsnummer"
        ),
        "fr": (
            "badge, bdg, cart, carte, carte d accès, carte de pointage, clé d accès, code accès, code clavier, code d "
            "accès, code de pointage, code main, code pin, code pointeuse, code saisi, identifiant de pointage, "
            "jeton, laissez passer, n d accès, nip, numéro d accès, numéro de main, numéro de pointage, numéro de "
            "pointeuse, numéro saisi, numéro tapé, pin, pointage"
        ),
        "pt": (
            "cart, cart ponto, cartão, cartão de acesso, cartão de ponto, chave, código de acesso, código de cartão, "
            "código de marcação, código de ponto, código digitado, código do ponto, código do relógio, código pin, "
            "crachat, crachá, credencial, identificação de ponto, no de relógio, número de marcação, número de ponto, "
            "número digitado, número do crachá, para marcar, pin, ponto, senha, senha do relógio"
        ),
        "it": (
            "badge, bdg, cart, cartellino, chiave, cod timbr, codice accesso, codice badge, codice di accesso, codice "
            "di timbratura, codice digitato, codice orologio, codice personale di timbratura, codice pin, codice "
            "tastierino, credenziale, da digitare, digitare, lasciapassare, numero cartellino, numero da digitare, "
            "numero di timbratura, numero digitato, numero timbratura, pass, pin, scheda, tess, tessera, tesserino"
        ),
        "nl": (
            "badge, bdg, chip, druppel, ingetoetst nummer, invoercode, invoernummer, kaart, kaartnr, klok, klok nr, "
            "klokcode, klokkaart, kloknummer, pas, pasje, pasnr, pin, pincode, prik, prik nr, prikcode, prikkaart, "
            "prikklok nummer, prikklokkaart, prikkloknummer, sleutelcode, toegangscode, toegangskaart, "
            "toegangsnummer, toegangspas, toetscode, toetsnummer"
        ),
        "pl": (
            "brelok, identyfikator, kart, karta, karta dostępu, karta rcp, karta zbliżeniowa, karty, kod czytnika "
            "osoby, kod dostępu, kod na czytniku, kod odbicia, kod osobisty, kod pin, kod rcp, kod wpisywany, nr odb, "
            "nr rcp, numer na czytniku, numer na klawiaturze, numer odbicia, numer rcp, numer wejścia, odb nr, pin, "
            "przep, przepustka, rcp, rejestracyjny, token, wpisywany numer"
        ),
    },
    "code": {
        "en": "abbreviation, cd, cde, code, codes, key, mnemonic, short code",
        "es": "clave, cod, codif, codigo, cód, código, cve",
        "de": "cd, code, codierung, kode, kurzzeichen, kürzel, kz, schlüssel, schlüsselnummer",
        "fr": "abrégé, cd, cod, code, codification",
        "pt": "cd, cod, cód, código, sigla",
        "it": "cd, cod, codice, sigla",
        "nl": "afkorting, cd, code, codering, sleutel",
        "pl": "kod, oznaczenie, skrót, symbol",
    },
    "digit": {
        "en": "characters, dig, digit, digits, digs, figures, num digits, positions",
        "es": "caracteres, cifra, cifras, díg, dígito, dígitos",
        "de": "stelle, stellen, stellenanzahl, stellenzahl, zeichen, ziff, ziffer, ziffern, ziffernzahl",
        "fr": "caractères, chif, chiffre, chiffres, positions",
        "pt": "algarismo, algarismos, caracteres, casas, díg, dígito, dígitos",
        "it": "caratteri, cifra, cifre, digit",
        "nl": "cijf, cijfer, cijfers, posities, tekens",
        "pl": "cyfr, cyfra, cyfry, pozycji, znaki, znaków",
    },
    "employee": {
        "en": (
            "assoc, associate, badge holder, cardholder, co worker, colleague, coworker, crew member, crewman, ee, "
            "ees, emp, empl, employee, employees, hand worker, headcount, jobholder, laborer, labourer, member, "
            "operative, operator, payee, person, personnel, staff, staff member, staffer, team mate, team member, "
            "wkr, wks, work force, worker, workforce"
        ),
        "es": (
            "agente, asalariada, asalariado, colab, colaborador, colaboradora, colaboradores, empl, empleada, "
            "empleado, empleados, funcionaria, funcionario, integrante, laboral, miembro, miembro del equipo, obrera, "
            "obrero, operaria, operario, pers, persona, persona trabajadora, personal, plantilla, rrhh, trab, "
            "trabajador, trabajadora, trabajadores"
        ),
        "de": (
            "angestellte, angestellter, arbeiter, arbeiterin, arbeitnehmer, arbeitnehmerin, arbeitskraft, "
            "bedienstete, bediensteten, bediensteter, belegschaft, besch, beschäft, beschäftigte, beschäftigten, "
            "beschäftigter, karteninhaber, kollege, kollegin, kraft, ma, mitarb, mitarbeiter, mitarbeiterin, "
            "mitglied, pers, person, personal, personalie, teammitglied"
        ),
        "fr": (
            "agent, agents, collab, collaborateur, collaboratrice, collègue, effectif, empl, employé, employée, "
            "employés, membre, membre du personnel, ouvrier, ouvrière, personne, personnel, préposé, rh, sal, "
            "salarié, salariée, salariés, travailleur, travailleuse"
        ),
        "pt": (
            "agente, colab, colaborador, colaboradora, colaboradores, contratado nome, empreg, empregada, empregado, "
            "func, funcionária, funcionário, funcionários, membro, operador, operária, operário, pessoa, pessoal, rh, "
            "servidor, trab, trabalhador, trabalhador a, trabalhadora"
        ),
        "it": (
            "add, addetta, addetti, addetto, collaboratore, collaboratrice, collega, dip, dipendente, dipendenti, "
            "impiegata, impiegato, lav, lavoratore, lavoratori, lavoratrice, membro, membro del personale, operaia, "
            "operaio, operatore, operatrice, organico, pers, persona, personale, ris, risorsa"
        ),
        "nl": (
            "arbeider, arbeidskracht, bediende, collega, employé, kaarthouder, lid, mdw, medew, medewerker, "
            "medewerkers, medewerkster, pashouder, personeel, personeels, personeelsleden, personeelslid, personen, "
            "persoon, teamlid, werkn, werkneemster, werknemer, werknemers, wn"
        ),
        "pl": (
            "członek, członek załogi, członek zespołu, kadr, kadrowa, kadrowe, kadrowy, kadry, operator, os, osoba, "
            "osobowa, osobowe, osobowy, osoby, personalny, personel, prac, pracow, pracownica, pracownicy, "
            "pracowniczka, pracowniczy, pracownik, pracownika, robotnik, współpracownik, zatrudniona, zatrudniony, "
            "załoga"
        ),
    },
    "family_name": {
        "en": (
            "fam name, family, family name, famname, last, last name, last nm, lastname, lname, lst name, lst nm, "
            "second name of family, sn, sname, surn, surname"
        ),
        "es": (
            "1er apellido, ap, ap materno, ap paterno, apell, apellido, apellido materno, apellido paterno, "
            "apellidos, los apellidos, primer apellido, segundo apellido familiar"
        ),
        "de": "ehename, fam name, familien name, familienname, famname, nachn, nachname, nachnamen, nname, zun, zuname",
        "fr": (
            "n fam, n usage, nom d épouse, nom d usage, nom de famille, nom de naissance, nom fam, nom marital, nom "
            "patronymique, nom usage, nom usuel, patronyme"
        ),
        "pt": (
            "apel, apelido, apelidos, nome de familia, nome de família, nome família, sobren, sobrenome, sobrenomes, "
            "últ nome, último nome"
        ),
        "it": "casato, cg, cgn, cogn, cognome, cognomi, nome di famiglia, nome famiglia",
        "nl": "achtern, achternaam, anaam, eigen naam, fam naam, familienaam, gesl naam, geslachtsnaam, meisjesnaam",
        "pl": "naz, nazw, nazwiska, nazwisko, nazwisko panieńskie, nazwisko rodowe",
    },
    "given_name": {
        "en": (
            "calling name, christian name, f name, first, first name, first names, first nm, firstname, fname, fore, "
            "forename, forenames, frst name, frst nm, given, given name, given names, givenname, gname, known as, "
            "nickname"
        ),
        "es": "1er nombre, nom pila, nombre de pila, nombre propio, nombres, nombres de pila, nombs, primer nombre",
        "de": "rufn, rufname, rufnamen, taufname, vn, vname, vorn, vorna, vorname, vornamen",
        "fr": "nom de baptême, petit nom, pnom, prén, prén us, prénom, prénom d usage, prénom usuel, prénoms",
        "pt": "n próprio, nome de batismo, nome próprio, nomes próprios, prenome, prim nome, primeiro nome",
        "it": "n pr, nome batt, nome di battesimo, nome proprio, nomi propri, prenome, primo nome",
        "nl": "doopnaam, eerste naam, roepn, roepnaam, vn, vnaam, voorn, voornaam, voornamen",
        "pl": "im, imie pierwsze, imienia, imię, imię 1, imion, imiona, pierwsze imię",
    },
    "hire": {
        "en": (
            "appointed, appointment, commenced, commencement, commencement date, date joined, date of hire, date of "
            "joining, date started, doh, doj, empl start, employed, employed from, employed since, employment, "
            "employment date, employment start, engaged, engagement, engagement date, entered, entry date, entry into "
            "service, first day, first day of work, first working day, hire, hire date, hire dt, hired, in service, "
            "in service since, join, join date, join dt, joined, joining, joining date, onboard, onboard date, "
            "onboarded, onboarding, recruited, recruitment, seniority, seniority date, service date, service since, "
            "service start, start of employment, started, started work, starting date, svc date, svc start, taken on, "
            "with us since, work start, working since"
        ),
        "es": (
            "admisión, alta, alta empresa, alta en empresa, alta en la empresa, alta en nómina, alta laboral, antig, "
            "antigüedad, antigüedad desde, comienzo de contrato, comienzo de la relación laboral, contratación, "
            "contratada, contratado, empleado desde, en plantilla desde, entrada en la empresa, entró, entró en la "
            "empresa, f alta, f ingreso, fecha de alta, fecha de antigüedad, fecha de contratación, fecha de "
            "incorporación, fecha de ingreso, incorp, incorporación, incorporado, ingr, ingreso, ingresó, inicio de "
            "contrato, inicio de la relación laboral, inicio laboral, primer día"
        ),
        "de": (
            "anfangsdatum, angestellt seit, anstellung, anstellung ab, anstellungsdatum, arbeitsbeginn im betrieb, "
            "aufnahme der tätigkeit, beginn arbeitsverhältnis, beginn des arbeitsverhältnisses, beschäftigt ab, "
            "beschäftigt seit, beschäftigungsbeginn, betriebseintritt, betriebszugehörigkeit, dienstantr, "
            "dienstantritt, dienstbeginn im betrieb, diensteintritt, eingestellt, eingetreten, einst, einstellung, "
            "einstellungsdatum, eintr, eintritt, eintrittsdatum, eintrittstag, erster arbeitstag, erster tag, "
            "firmeneintritt, im betrieb seit, neueintritt, tätig seit, vertr beg, vertragsbeginn, zug, zugang, "
            "zugangsdatum"
        ),
        "fr": (
            "anc, ancienneté, arrivée, dans l entreprise depuis, date d ancienneté, date d arrivée, date d embauche, "
            "date d entrée, date de début, début contr, début contrat, début d emploi, début de contrat, dt arr, dt "
            "entrée, emb, embauche, embauché, embauchée, engagement, engagé, entré, entré le, entrée dans l "
            "entreprise, entrée en fonction, entrée en service, entrée société, nomination, premier jour, présent "
            "depuis, prise de fonction, recrutement, recruté, recruté le"
        ),
        "pt": (
            "adm, admiss, admissão, admitida, admitido, antiguidade, começou a trabalhar, contr em, contratação, "
            "contratada, contratado, contratado em, data de admissão, data de entrada, data de ingresso, data de "
            "início, dt adm, empregado desde, entrada ao serviço, entrada na empresa, ingr, ingresso, início de "
            "atividade, início de contrato, início de funções, início do contrato, na empresa desde, posse, primeiro "
            "dia, recrutamento"
        ),
        "it": (
            "anzianità, ass, assunta, assunto, assunto il, assunz, assunzione, avvio rapporto, data anzianità, data "
            "assunzione, data di assunzione, data di entrata, data di ingresso, data inizio, dipendente dal, entrata "
            "in azienda, entrata in servizio, entrato, in forza, in forza dal, in rapp, in rapp lav, in servizio dal, "
            "ingresso, ingresso in azienda, inizio contratto, inizio rapp, inizio rapporto, inizio rapporto di "
            "lavoro, inizio servizio, presa di servizio, primo giorno"
        ),
        "nl": (
            "aang op, aangenomen, aangenomen op, aangeworven, aanname, aanstelling, aanstellingsdatum, aanvang, "
            "aanvang dienstverband, aanwerving, anciënniteit, begin contract, begin dienstverband, begin in dienst, "
            "begindatum, contractbegin, dat i d, datum aanvang, datum in dienst, eerste dag, eerste werkdag, gestart, "
            "gestart op, i d, in dienst, in dienst per, in dienst sedert, in dienst sinds, ind, indienst, "
            "indienstdat, indiensttreding, intrede, start dienstverband, startdatum, werkzaam sinds"
        ),
        "pl": (
            "angaż, angażu, data nawiązania umowy, data przyj, data przyjęcia, data rozpoczęcia pracy, data "
            "zatrudnienia, nawiązania, nawiązanie umowy, pierwszy dzień, pierwszy dzień pracy, pocz umowy, początek "
            "pracy, początek umowy, początek zatrudnienia, pracuje od, przyj, przyjęcia, przyjęcie, przyjęta, "
            "przyjęty, przyjęty dnia, rozpoczął pracę, rozpoczęcie pracy, staż od, w firmie od, zatr, zatr od, "
            "zatrudnienia, zatrudnienie, zatrudniona, zatrudniony, zatrudniony od"
        ),
    },
    "identifier": {
        "en": (
            "id, ident, identification, identification number, identifier, identity, ids, key id, ref, reference, "
            "refno, uid, unique id"
        ),
        "es": "clave única, id, identif, identificación, identificador, identificativo, idt, ref, referencia",
        "de": (
            "id, ident, identifikation, identifikator, identnummer, kenn nr, kennnummer, kennung, kennz, kennzahl, "
            "kennzeichen, kennziffer, ref, referenz"
        ),
        "fr": "id, ident, identifiant, identifiants, identification, réf, référence",
        "pt": "id, ident, identif, identificação, identificador, ref, referência",
        "it": "id, ident, identificativi, identificativo, identificatore, identificazione, rif, riferimento",
        "nl": "id, ident, identificatie, identificatienummer, kenmerk, ref, referentie",
        "pl": "id, ident, identyfikacja, identyfikacyjny, identyfikator, ozn, oznaczenie, symbol",
    },
    "leave": {
        "en": (
            "ceased, ceased employment, cessation, contract end, date left, date of leaving, departed, discharge, "
            "discharged, dismissed, doe, dol, empl end, employed to, employed until, employment ceased, employment "
            "end, end of employment, end of service, exit, exit date, exit dt, final day, finished, gone, gone on, "
            "gone since, last day, last day of work, last day worked, last working day, leave, leave date, leaver, "
            "leaving, leaving date, left, left on, lwd, off roll, offboarded, offboarding, quit date, release date, "
            "resignation, resignation date, resigned, retired, sep, sep date, sep dt, separated, separation, "
            "separation date, service end, term, term date, term dt, terminated, termination, termination date"
        ),
        "es": (
            "baja, baja en nómina, baja laboral, causó baja, cese, cese laboral, dejó, despido, desvinculación, egr, "
            "egreso, empleado hasta, extinción, f baja, f egreso, f término, fecha de baja, fecha de cese, fecha de "
            "egreso, fecha de término, fin de contrato, fin de la relación laboral, finiquito, renuncia, retiro de la "
            "empresa, salida de la empresa, salida empresa, se fue, terminación, terminación de contrato, término, "
            "término de contrato, últ día, último día, último día de trabajo, último día laborado, último día "
            "trabajado"
        ),
        "de": (
            "abg, abgang, abgangsdatum, aufhebung, ausgeschieden, ausgetreten, ausgetreten am, ausscheidedatum, "
            "ausscheiden, austr, austritt, austrittsdatum, beschäftigt bis, beschäftigungsende, betriebsaustritt, "
            "dienstaustritt, dienstende, enddatum, ende arbeitsverhältnis, ende des arbeitsverhältnisses, entl, "
            "entlass, entlassdatum, entlassen, entlassung, firmenaustritt, gekündigt, im betrieb bis, kündigung, "
            "kündigungsdatum, letzt at, letzter arbeitstag, letzter tag, tätig bis, verlassen, vertr ende, "
            "vertragsende"
        ),
        "fr": (
            "a quitté, cessation, date de départ, date de fin, date de sortie, dern jr, dernier jour, dernier jour "
            "travaillé, démission, dép, départ, départ de, départ de l entreprise, départ le, dt sortie, fin contr, "
            "fin contrat, fin d activité, fin d emploi, fin d engagement, fin de contrat, fin de fonction, fin de "
            "service de l employé, licenciement, présent jusqu au, quitté, quitté le, radiation, rupture, sorti, "
            "sorti e le, sortie, sortie des effectifs, sortie société"
        ),
        "pt": (
            "afastamento definitivo, cessação, data de cessação, data de demissão, data de desligamento, data de "
            "rescisão, data de saída, dem, demissão, demitida, demitido, desl, deslig, desligado, desligamento, "
            "dispensa, dt saída, empregado até, exoneração, fim de contrato, fim de funções, fim do contrato, resc, "
            "rescisão, saiu, saída da empresa, saída do serviço, terminou, término de contrato, término do contrato, "
            "último dia, último dia de trabalho"
        ),
        "it": (
            "cess, cessata, cessato, cessato il, cessaz, cessazione, chiusura rapporto, data cessazione, data di "
            "uscita, data dimissioni, data fine, data fine rapporto, data termine, dimesso, dimiss, dimissione, "
            "dimissioni, fine contratto, fine rapp, fine rapporto, fine rapporto di lavoro, fine servizio, in forza "
            "fino al, licenziamento, licenziato, risoluzione, termine rapporto, ult gg, ultimo giorno, ultimo giorno "
            "di lavoro, ultimo giorno lavorato, uscita dall azienda, uscito"
        ),
        "nl": (
            "beëindiging, contracteinde, dat u d, datum einde, datum uit dienst, einddatum, einde contract, einde "
            "dienstverband, einde tewerkstelling, gestopt, gestopt op, laatste dag, laatste wd, laatste werkdag, "
            "laatste werkdatum, ontslag, ontslagdatum, ontslagen, u d, uit dienst, uit dienst per, uitd, uitdienst, "
            "uitdienstdatum, uitdiensttreding, uittrede, uittreding, vertr, vertrek, vertrekdatum, vertrokken, "
            "vertrokken op, werkzaam tot"
        ),
        "pl": (
            "data odejścia, data rozwiązania umowy, data zwolnienia, kon umowy, koniec pracy, koniec umowy, koniec "
            "zatrudnienia, odejścia, odejście, odszedł, odszedł dnia, ost dz, ostatni dzień, ostatni dzień pracy, "
            "rozwiązania, rozwiązania umowy, rozwiązanie umowy, ustania, ustania zatrudnienia, ustanie zatrudnienia, "
            "wygaśnięcia umowy, wygaśnięcie, wypowiedzenia, zakończenia pracy, zakończenie pracy, zakończenie "
            "zatrudnienia, zakończył pracę, zwol, zwoln, zwolnienia, zwolnienie, zwolniona, zwolniony, zwolniony dnia"
        ),
    },
    "length": {
        "en": "id length, len, length, lgth, pin length, size of number, width",
        "es": "largo, long, longitud, tamaño",
        "de": "länge, lng, nummernlänge, stellenlänge",
        "fr": "long, longueur, taille du numéro",
        "pt": "compr, comprimento, tam, tamanho",
        "it": "lung, lungh, lunghezza",
        "nl": "lengte, lgt, nummerlengte",
        "pl": "dł, dług, długość",
    },
    "level": {
        "en": (
            "access, access level, access rights, auth, auth lvl, authorisation, authority, authority level, "
            "authorization, clearance, lev, level, lvl, perm, permission, permissions, privilege, privileges, reader "
            "rights, rights, security level"
        ),
        "es": (
            "atribución, autoridad, autorización, derechos, niv, niv aut, nivel, nivel de acceso, nivel de "
            "autorización, nivel de permiso, perm, permiso, permisos, privilegios"
        ),
        "de": (
            "befugnis, befugnisse, ber, berecht, berechtigung, berechtigungsstufe, ebene, leserrechte, niveau, recht, "
            "rechte, sicherheitsstufe, stufe, zugriffsrecht, zugriffsrechte, zugriffsstufe, zutrittsstufe"
        ),
        "fr": (
            "autorisation, autorité, droit, droits, droits d accès, habil, habilitation, niv, niveau, niveau d accès, "
            "niveau d autorisation, niveau de droit, permissions, privilèges"
        ),
        "pt": (
            "alçada, autoridade, autorização, direitos, nív, nível, nível de acesso, nível de autorização, perm, "
            "permissão, permissões, privilégios"
        ),
        "it": (
            "abilit, abilitazione, autorità, autorizzazione, diritti, grado di accesso, liv, livello, livello di "
            "accesso, livello di autorizzazione, permessi, permesso, privilegi"
        ),
        "nl": (
            "autorisatie, bevoegdheden, bevoegdheid, bevoegdheidsniveau, gezag, machtiging, niv, niveau, privileges, "
            "recht, rechten, toegangsniveau"
        ),
        "pl": (
            "poz, poziom, poziom dostępu, poziom uprawnień, prawa, prawa dostępu, przywileje, stopień uprawnień, "
            "upoważnienie, upr, uprawnienia, uprawnień"
        ),
    },
    "manager": {
        "en": (
            "approved by, approver, boss, department head, direct manager, foreman name, head of department, head of "
            "team, hierarchical superior, imm mgr, immediate manager, immediate supervisor, l mgr, leader, line "
            "manager, line mgr, managed by, manager, manager name, mgr, mngr, overseer, report to, reporting to, "
            "reports to, responsible, responsible person, sup name, superior, superior name, supervised by, "
            "supervisor name, supv name, team lead, team lead name, team leader, team manager"
        ),
        "es": (
            "a cargo de, aprobador, coordinador, coordinadora, depende de, encargado directo, gerente, jefa, jefa "
            "directa, jefa inmediata, jefe, jefe de área, jefe de equipo, jefe directo, jefe inmediato, líder, líder "
            "de equipo, mando, mando directo, nom jefe, nombre del jefe, rep a, reporta a, resp, responsable, "
            "responsable directo, superior, superior inmediato, superior jerárquico, supervisado por"
        ),
        "de": (
            "abt ltr, abteilungsleiter, abteilungsleitung, berichtet an, chef, chefin, dienstvorgesetzter, direkter "
            "vorgesetzter, fk, führ kraft, führungskraft, genehmiger, gruppenleiter, leiter, leiter name, leiterin, "
            "leitung, manager, teamchef, teamleiter, teamleiterin, teamleitung, unterst, untersteht, unterstellt, "
            "verantwortlich, verantwortliche, verantwortlicher, vorarb name, vorarbeiter name, vorges, vorgesetzte, "
            "vorgesetzten, vorgesetzter, vorgesetzter name"
        ),
        "fr": (
            "chef, chef d atelier, chef d équipe, chef d équipe nom, chef de service, chef direct, dirigeant, "
            "encadrant nom, gest, gestionnaire, hiérarchie, hiérarchique, manager, n 1, n+1, nom du chef, rattaché à, "
            "relève de, rend compte à, resp, resp hiér, responsable, responsable direct, responsable hiérarchique, "
            "supérieur, supérieur direct, supérieur hiérarchique, valideur"
        ),
        "pt": (
            "aprovador, chefe, chefe direto, chefe imediato, chefia direta, chefia imediata, coordenador, "
            "coordenadora, diretor, encarregado direto, gerente, gest, gestor, gestor direto, gestora, líd, líder, "
            "líder da equipe, líder de equipa, nome do chefe, nome do gestor, reporta a, resp, responde a, "
            "responsável, responsável direto, superior, superior hierárquico, superior imediato"
        ),
        "it": (
            "capo, capo area, capo diretto, capo reparto, capo reparto nome, capo ufficio, caporeparto, coord, "
            "coordinatore, coordinatrice, diretto superiore, dirigente, nome del capo, nome del responsabile, "
            "referente, resp, respons, responsabile, responsabile diretto, riferisce a, riporta a, sup, superiore, "
            "superiore diretto, superiore gerarchico, team leader"
        ),
        "nl": (
            "afd hoofd, afdelingshoofd, baas, chef, direct leidinggevende, direct leidinggevende naam, goedkeurder, "
            "hoofd, leiding, leidingg, leidinggevende, leidinggevende naam, manager, meerdere, naam leidinggevende, "
            "pl l, ploegleider, rapporteert aan, superieur, teamlead, teamleider, teammanager, unithoofd, valt onder, "
            "verantwoordelijke"
        ),
        "pl": (
            "bezpośredni przełożony, brygadzista nazwisko, dyrektor, imię i nazwisko kierownika, kier, kierowniczka, "
            "kierownik, koordynator, lider zespołu, menedżer, mistrz, odpowiedzialny, osoba odpowiedzialna, podlega, "
            "podległość, podwładny czyj, przeł, przełożona, przełożonego, przełożony, przełożony imię i nazwisko, "
            "raportuje do, szef, szefowa, zwierzchnik"
        ),
    },
    "may": {
        "en": "allowed, authorised, authorized, can, entitled, may, permitted",
        "es": "autorizado, habilitado, permitido, puede",
        "de": "befugt, berechtigt, darf, erlaubt, kann",
        "fr": "autorisé, habilité, permis, peut",
        "pt": "autorizado, habilitado, permitido, pode",
        "it": "abilitato, autorizzato, permesso, può",
        "nl": "bevoegd, kan, mag, toegestaan",
        "pl": "dozwolone, może, uprawniony, wolno",
    },
    "middle_name": {
        "en": (
            "additional name, alias, former name, honorific prefix, honorific suffix, initials, inits, maiden name, "
            "mi, mid init, middle, middle initial, middle name, middle names, mname, nee, second first name, second "
            "forename, second given name, suffix"
        ),
        "es": "alias, apodo, inicial, iniciales, nombre de soltera, segundo apellido, segundo nom, segundo nombre",
        "de": (
            "akademischer grad, geburtsname, initialen, mädchenname, namenszus, namenszusatz, titel vor name, "
            "vorsatzwort, weitere vornamen, zusatz, zweiter vorname"
        ),
        "fr": "alias, autres prénoms, deuxième prénom, initiales, nom de jeune fille, particule, second prénom, surnom",
        "pt": "alcunha, iniciais, nome de solteira, nome de solteiro, nome do meio, segundo nome",
        "it": "alias, iniziali, nome da nubile, secondo nome, soprannome",
        "nl": (
            "initialen, meisjesnaam partner, partnernaam, tussenv, tussenvoegsel, tweede voornaam, voorl, "
            "voorletters, voorvoegsel, voorvoegsels"
        ),
        "pl": (
            "drugie imię, imię matki, imię ojca, inicjały, inne imiona, nazwisko matki, nazwisko panieńskie matki, "
            "pseudonim"
        ),
    },
    "most": {
        "en": (
            "at most, ceiling, greatest, highest, lim, limit, longest, max, maximal, maximum, most, upper limit, upto"
        ),
        "es": "como máximo, lím, límite, mayor, máx, máxima, máximo, tope",
        "de": (
            "grenze, grösste, höchst, höchste, höchstens, längste, längster, limit, max, maximal, maximum, obergrenze"
        ),
        "fr": "au plus, le plus long, lim, limite, max, maxi, maximal, maximale, maximum, plafond",
        "pt": "lim, limite, maior, máx, máxima, máximo, no máximo, teto",
        "it": "al più, lim, limite, massima, massime, massimi, massimo, max, tetto",
        "nl": "grens, hoogste, langste, limiet, max, maximaal, maximale, maximum, ten hoogste",
        "pl": "lim, limit, maks, maksymalna, maksymalnie, maksymalny, max, najdłuższy, najwyżej",
    },
    "name": {
        "en": (
            "cn, common name, display name, employee full name, first and last name, fn, formatted name, full name, "
            "fullname, known name, last first, last name first name, legal name, name, name in full, names, nm, nme, "
            "person name, preferred name, surname and first name, surname forename, titular name"
        ),
        "es": (
            "apell y nom, apellido y nombre, apellidos nombre, apellidos y nombre, apellidos y nombres, denominación, "
            "nom y apell, nomb, nombre, nombre apellidos, nombre y apellido, nombre y apellidos, nombre y dos "
            "apellidos, nombres y apellidos, razón"
        ),
        "de": (
            "anzeigename, bezeichnung der person, nachname und vorname, nachname vorname, nam, name, name und "
            "vorname, name vorname, namen, namensangabe, personenname, voller name, vor nachname, vor u nachname, vor "
            "und nachname, vor und zuname, vorname nachname, vorname und nachname, vorname und name"
        ),
        "fr": (
            "dénomination, identité, nm, nom, nom affiché, nom et prénom, nom et prénoms, nom prén, nom prénom, noms, "
            "noms et prénoms, prénom et nom, prénom nom"
        ),
        "pt": (
            "denominação, identidade, nm, nome, nome apelido, nome completo, nome e apelido, nome e sobrenome, nome "
            "social"
        ),
        "it": (
            "c e n, cognome e nome, cognome nome, denominazione, generalità, n e c, nm, nome, nome cognome, nome e "
            "cognome, nomin, nominativi, nominativo"
        ),
        "nl": (
            "achternaam en voornaam, achternaam voornaam, benaming, naam, naam en voornaam, namen, nm, voor en "
            "achternaam, voornaam en achternaam, voornaam en naam, weergavenaam"
        ),
        "pl": (
            "dane osobowe, im i nazw, imienny, imię i nazwisko, imię nazwisko, imiona i nazwiska, nazw im, nazwa, "
            "nazwisko i imię, nazwisko imię, określenie"
        ),
    },
    "number": {
        "en": "figure, nbr, nbr of, nmbr, no, nos, nr, num, numb, number",
        "es": "n, no, nro, num, numeración, núm, número",
        "de": "nr, nrn, num, nummer, zahl",
        "fr": "n, nbr, no, nro, num, numero, numéro",
        "pt": "n, no, nr, nro, num, numeração, número",
        "it": "n, nr, nro, num, numero",
        "nl": "no, nr, num, nummer",
        "pl": "nr, nru, num, numer",
    },
    "payroll": {
        "en": "pay roll, payee, paymaster, payroll, pr, wages number, wages office",
        "es": "haberes, nóm, nómina, planilla, planilla de pago, remuneraciones",
        "de": (
            "abrechnung, entgeltabrechnung, gehalt, gehaltsabrechnung, lohn, lohnabrechnung, lohnbuch, lohnkonto "
            "nummer, payroll"
        ),
        "fr": "bulletin de paie, paie, paies, paye",
        "pt": "folha, folha de pagamento, folha de pagto, processamento salarial, vencimentos",
        "it": "busta, busta paga, cedolino, elaborazione paghe, paghe, stipendi",
        "nl": "loon, loonadministratie, loonstrook, salaris, salarisadministratie, verloning",
        "pl": "lista płac, naliczanie płac, płace, płacowa, płacowe, płacowy",
    },
    "phone": {
        "en": (
            "cell, cell nbr, cell phone, cellphone, cellular, contact, contact no, contact number, contact phone, "
            "contact tel, contact telephone, daytime phone, dial, handphone, handset, home phone, landline, mob, mob "
            "no, mobile, mobile no, mobile number, mobile phone, ph, ph no, phone, phone no, phone number, phone "
            "private, private phone, tel, tel no, teleph, telephone, telephone no, telephone number, work phone"
        ),
        "es": (
            "cel, celular, contacto, fono, mov, móvil, núm tel, número de contacto, número de teléfono, número "
            "telefónico, tel, tel móvil, tel particular, teléfono, teléfono de contacto, teléfono fijo, teléfono "
            "móvil, teléfono particular, telf, tfno, tlf, tlfno, whatsapp"
        ),
        "de": (
            "durchwahl, erreichbar unter, erreichbarkeit, fernsprecher, festnetz, fon, handy, handynr, handynummer, "
            "kontakt, kontaktnummer, mob, mobil, mobilfunk, mobilnr, mobilnummer, mobiltelefon, rufnr, rufnummer, "
            "tel, tel nr, telefon, telefon privat, telefonnr, telefonnummer"
        ),
        "fr": (
            "cell, cellulaire, contact, coordonnées, coordonnées téléphoniques, fixe, gsm, joignable au, ligne "
            "directe, mob, mobile, n de téléphone, n tél, numéro d appel, numéro de mobile, numéro de téléphone, "
            "port, portable, tel, tél, tél port, tél portable, téléphone, téléphone mobile, téléphone portable"
        ),
        "pt": (
            "cel, celular, cont, contacto, contacto telefónico, contato, contato telefônico, fone, número de celular, "
            "número de contacto, número de telefone, tel, tel contacto, telef, telefone, telefone fixo, telem, "
            "telemóvel, tlm, whatsapp"
        ),
        "it": (
            "cell, cellulare, contatti, contatto, fisso, mobile, n cell, n tel, numero cellulare, numero di telefono, "
            "rec, recapito, recapito tel, recapito telefonico, tel, tel casa, telefonino, telefono, telefono "
            "cellulare, utenza"
        ),
        "nl": (
            "06 nummer, bereikbaar op, bereikbaarheid, contactnummer, gsm, gsm nummer, mob, mob nr, mobiel, mobiel "
            "nummer, mobiele nummer, mobiele telefoon, tel, tel nr, telefoon, telefoonnr, telefoonnummer, telnr, "
            "toestelnummer, vaste telefoon"
        ),
        "pl": (
            "kom, komórka, komórkowy, kontakt, nr kom, nr tel, nr telefonu, numer kontaktowy, numer telefonu, "
            "stacjonarny, tel, tel kom, tel kontaktowy, telef, telefon, telefon komórkowy, telefon kontaktowy"
        ),
    },
    "role": {
        "en": (
            "access role, function role, kind of user, profile, role, user class, user group, user level, user "
            "profile, user role, user type"
        ),
        "es": (
            "clase de usuario, función, perfil, perfil de acceso, perfil de usuario, rol, rol de usuario, tipo de "
            "usuario"
        ),
        "de": (
            "aufgabe, b rolle, benutzerart, benutzergruppe, benutzerprofil, benutzerrolle, benutzertyp, "
            "berechtigungsrolle, profil, rolle, rollenname"
        ),
        "fr": (
            "groupe d utilisateurs, profil, profil d accès, profil d utilisateur, rôle, rôle d utilisateur, type d "
            "utilisateur"
        ),
        "pt": (
            "fun, função, papel, perf, perfil, perfil de acesso, perfil de utilizador, perfil do usuário, rol, tipo "
            "de usuário, tipo de utilizador"
        ),
        "it": "gruppo utente, prof, profilo, profilo utente, ruolo, ruolo utente, tipo utente, tipologia utente",
        "nl": (
            "gebr rol, gebruikersgroep, gebruikersprofiel, gebruikersrol, gebruikerstype, prof, profiel, rol, soort "
            "gebruiker"
        ),
        "pl": (
            "grupa użytkowników, prof, profil, profil użytkownika, rodzaj użytkownika, rola, rola użytkownika, typ "
            "użytkownika"
        ),
    },
    "staff_number": {
        "en": (
            "eeid, empid, employee record number, employment number, empno, empnum, file, file no, file number, hr "
            "number, payroll ref, pers no, person number, personnel no, personnel number, service number, staff no, "
            "staff ref, works number"
        ),
        "es": (
            "expediente, ficha, leg, legajo, mat, matrícula, no de matrícula, no exp, nómina, núm de expediente, "
            "número de expediente, número de ficha, número de legajo, número de matrícula, número de nómina, número "
            "de personal, número interno, número mecanográfico, número patronal"
        ),
        "de": (
            "aktenzeichen personal, betriebsnummer personal, dienstnummer, ma nr, manr, mitarbeiternummer, p nr, pers "
            "nr, perskz, persnr, persnummer, personal nr, personalkennung, personalkennzahl, personalkennzeichen, "
            "personalkennziffer, personalnummer, pk nr, pkz, pnr, stamm nr, stammdatennummer, stammkennzahl, stammnr, "
            "stammnummer, stammsatz"
        ),
        "fr": (
            "code agent, code salarié, mat, matr, matricule, mle, n mat, numéro d agent, numéro d employé, numéro de "
            "matricule, numéro de paie, numéro de salarié, numéro interne, numéro matricule"
        ),
        "pt": (
            "cadastro de funcionário, chapa, mat, matr, matrícula, mec, mecanográfico, no interno, no mec, no "
            "mecanográfico, num mec, número de funcionário, número de matrícula, número de registro, número interno, "
            "número mecanográfico, prontuário, re, reg, registro, registro funcional"
        ),
        "it": (
            "codice fascicolo, codice matricola, matr, matricola, matricola dipendente, mtr, numero di matricola, "
            "numero di servizio, numero matricola"
        ),
        "nl": (
            "dienstnummer, loonnr, loonnummer, mdwnr, medewerkernummer, pers nr, persnr, personeels nr, personeelsnr, "
            "personeelsnummer, registratienummer, stamnr, stamnummer, werknemernummer, werknr"
        ),
        "pl": (
            "akta, id kadrowe, nr akt, nr ewid, nr ewidencyjny, nr kadrowy, nr os, nr osobowy, nr pracownika, nr "
            "służbowy, numer akt, numer ewid, numer ewidencyjny, numer kadrowy, numer osobowy, numer pracownika, "
            "numer służbowy, numer teczki"
        ),
    },
    "supervisor": {
        "en": (
            "admin, administrator, authorised to enrol, authorized to enroll, can enrol, can enroll, chargehand, enr "
            "rts, enroler, enroller, enrolment right, enrolment rights, foreman, forewoman, in charge, is admin, is "
            "lead, is supervisor, lead, may enrol, may enroll, reader admin, spvr, sup, sup flag, superv, supervisor, "
            "supervisory, supv, supvr, team lead flag, trainer, warden"
        ),
        "es": (
            "administrador, autorizada, autorizado, autorizado para registrar, capataz, encarg, encargada, encargado, "
            "es encargado, es jefe, jefatura, jefe, mando, puede dar de alta, puede enrolar, puede inscribir, puede "
            "registrar, responsable de alta, superv, supervisor, supervisora"
        ),
        "de": (
            "administrator, anlernrecht, aufs, aufseher, aufsicht, aufsichtsberechtigt, aufsichtsperson, befugt, "
            "berechtigt, darf anlernen, darf einlernen, darf erfassen, einlernbefugt, einlernberechtigt, "
            "einlernrecht, gruppenleitung, ist leitung, ist vorgesetzter, leitend, leitung, ltg, meister, polier, "
            "schichtleiter, schichtleitung, supervisor, teamleitung, vorarb, vorarbeiter, vorarbeiterin, vorgesetzter "
            "ja nein"
        ),
        "fr": (
            "administrateur, agent de maîtrise, autorisé à enregistrer, chef, chef oui non, contremaître, droit d "
            "enregistrer, encadr, encadrant, encadrement, est chef, habilité, habilité à enregistrer, meneur, peut "
            "enregistrer, peut enrôler, peut inscrire, responsable oui non, superv, superviseur, surveillant"
        ),
        "pt": (
            "administrador, autorizado, autorizado a cadastrar, autorizado a registar, capataz, chefe, chefia, encar, "
            "encarregada, encarregado, é chefe, líder sim não, mestre, pode cadastrar, pode inscrever, pode registar, "
            "pode registrar, responsável sim não, superv, supervisor, supervisora"
        ),
        "it": (
            "abil, abilitato, abilitato a registrare, amministratore, autorizzato, autorizzato a registrare, capo, "
            "capo turno, caposquadra, capoturno, è capo, incaricato, preposto, può acquisire, può iscrivere, può "
            "registrare, responsabile sì no, sorvegliante, superv, supervisore"
        ),
        "nl": (
            "beheerder, beheerrechten, bev, bevoegd, chef, gemachtigd, is chef, is leidinggevende, leidinggevende ja "
            "nee, mag aanmelden, mag inleren, mag inschrijven, mag registreren, opzichter, ploegbaas, ploegchef, "
            "superv, supervisor, toez, toezicht, toezichthouder, voorman"
        ),
        "pl": (
            "administrator, brygadzista, brygadzistka, czy kierownik, czy lider, czy przełożony, kierujący, lider, "
            "majster, mistrz zmiany, może rejestrować, może wpisywać, może zarejestrować, nadz, nadzorca, "
            "nadzorujący, nadzór, prowadzący, przodowy, upraw, uprawniona, uprawniony, uprawniony do rejestracji"
        ),
    },
    "title": {
        "en": (
            "craft, designation, duty title, function, function title, grade, job, job class, job code, job desc, job "
            "descr, job description, job family, job grade, job name, job position, job role, job title, job ttl, "
            "occ, occupation, pos, pos title, position, position title, post, profession, rank, role title, title, "
            "trade, ttl, vocation"
        ),
        "es": (
            "cargo, cat, cat prof, categoría, categoría profesional, cgo, denominación del puesto, empleo, escalafón, "
            "función, grado, grupo profesional, nombre del puesto, ocupación, oficio, posición, profesión, pto, pto "
            "trab, puesto, puesto de trabajo"
        ),
        "de": (
            "amtsbezeichnung, arbeitsplatzbezeichnung, beruf, berufsbezeichnung, berufsgruppe, besoldungsgruppe, "
            "dienstgrad, dienststellung, eingruppierung, entgeltgruppe, funkt, funktion, funktionsbezeichnung, "
            "jobtitel, lohngruppe, planstelle, position, stelle, stellenbez, stellenbezeichnung, stellentitel, stl, "
            "tarifgruppe, tätigk, tätigkeit, tätigkeitsbezeichnung"
        ),
        "fr": (
            "catégorie, catégorie professionnelle, classification, coefficient, emploi, échelon, fct, fonct, "
            "fonction, grade, int poste, intitulé, intitulé du poste, métier, poste, poste occupé, prof, profession, "
            "qualif, qualification, statut professionnel, titre, titre du poste"
        ),
        "pt": (
            "cargo, carreira, cat, cat prof, categoria, categoria profissional, cbo, cgo, desc cargo, descrição do "
            "cargo, função, grau, nível salarial, ocupação, ofício, posto, posto de trabalho, profissão, título"
        ),
        "it": (
            "categoria, funzione, impiego, inc, incarico, inq, inquadramento, livello contrattuale, mans, mansione, "
            "mestiere, posizione, posizione lavorativa, posto, professione, profilo professionale, qual, qualifica, "
            "ruolo aziendale, ruolo professionale, titolo"
        ),
        "nl": (
            "aanstelling, ambt, baan, beroep, func, functie, functienaam, functienm, functieomschrijving, "
            "functieschaal, functietitel, loonschaal, positie, rang, schaal, taak, titel, vak, werk"
        ),
        "pl": (
            "etat, funkcja, grupa zawodowa, kategoria zaszeregowania, nazwa stanowiska, posada, praca, profesja, "
            "ranga, specjalność, stan, stanow, stanowiska, stanowisko, stopień, tytuł, zajęcie, zaw, zawód"
        ),
    },
    "whole": {
        "en": "both, complete, display, entire, full, in full, whole",
        "es": "compl, completa, completo, entero, íntegro",
        "de": "ganz, ganzer, gesamter, komplett, voll, vollst, vollständig, vollständiger",
        "fr": "compl, complet, complète, entier, entière, intégral",
        "pt": "compl, completa, completo, integral, inteiro",
        "it": "compl, completa, completo, intero, per esteso",
        "nl": "compleet, geheel, heel, voll, volledig, volledige",
        "pl": "całość, cały, kompletny, pełna, pełne, pełny",
    },
}
