"""Words for what people are at a workplace, and from when to when. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_STANDING"]

OF_STANDING: dict[str, dict[str, str]] = {
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
            "tarifgruppe, tät, tätigk, tätigkeit, tätigkeitsbezeichnung"
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
}
