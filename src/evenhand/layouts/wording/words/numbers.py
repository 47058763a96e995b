"""Words for the numbers by which people are known, and for how long these are. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_NUMBERS"]

OF_NUMBERS: dict[str, dict[str, str]] = {
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
}
