"""Words for what rosters tell of people beside, and no table here has a place for. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_PRIVATE"]

OF_PRIVATE: dict[str, dict[str, str]] = {
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
}
