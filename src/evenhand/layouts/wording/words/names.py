"""Words for people's names, and for where and how they are reached. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_NAMES"]

OF_NAMES: dict[str, dict[str, str]] = {
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
