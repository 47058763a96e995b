"""Words for places and parts of a workplace, and for readers. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_PLACES"]

OF_PLACES: dict[str, dict[str, str]] = {
    "capacity": {
        "en": (
            "cap, capacity, capacity in hands, enrolment capacity, enrolment limit, fits, hands held, hands stored, "
            "holds, limit of users, max hands, max people, max templates, max users, mem, memory, number of users "
            "held, people limit, places, seats, slots, storage, storage size, template capacity, templates max, user "
            "cap, user limit, users"
        ),
        "es": (
            "aforo, almacena, cabida, cap, capacidad, capacidad de usuarios, cupo, lím usu, límite de personas, "
            "límite de usuarios, manos, manos que admite, máx pers, máximo de personas, máximo de usuarios, memoria, "
            "plantillas máximas, plazas, registros máximos, usu, usuarios, usuarios máximos"
        ),
        "de": (
            "aufnahmefähigkeit, benutzer, benutzergrenze, benutzerzahl, fasst, fassungsvermögen, handplätze, hände, "
            "höchstzahl, kap, kapaz, kapazität, max benutzer, max personen, maximale personenzahl, personen, plätze, "
            "spch, speicher, speicherkapazität, speicherplätze, vorlagenspeicher"
        ),
        "fr": (
            "cap, capa, capacité, capacité en mains, contenance, effectif maximal, empreintes de main max, limite d "
            "utilisateurs, mains, maximum de personnes, mémoire, nb max util, nombre de places, nombre maximal d "
            "utilisateurs, personnes, places, util, utilisateurs"
        ),
        "pt": (
            "armazenamento, cabem, cap, capac, capacidade, capacidade de utilizadores, limite de pessoas, limite de "
            "usuários, limite de utilizadores, lotação, máx usu, máximo de pessoas, máximo de usuários, mãos, "
            "memória, usuários, utilizadores, vagas"
        ),
        "it": (
            "cap, capac, capacità, capienza, contiene, lim ut, limite utenti, mani, massimo persone, max utenti, "
            "memoria, numero massimo di utenti, persone, posti, posti in memoria, ut, utenti, utenti massimi"
        ),
        "nl": (
            "aantal gebruikers, bevat maximaal, cap, capaciteit, gebr, gebruikers, geheugen, geheugenplaatsen, "
            "handen, max gebr, max gebruikers, max pers, max personen, maximum gebruikers, opslag, opslagcapaciteit, "
            "plaatsen"
        ),
        "pl": (
            "dłonie, ile osób, liczba miejsc, lim os, limit osób, maks os, maks osób, maks użytkowników, maksymalna "
            "liczba użytkowników, miejsc, miejsca, miejsca w pamięci, mieści, osób, pamięć, poj, pojemn, pojemność, "
            "użytkowników"
        ),
    },
    "clock": {
        "en": "clk, clock, clocks",
        "es": "rel, reloj",
        "de": "stechuhr, stempeluhr, uhr",
        "fr": "horl, horloge, pointeuse",
        "pt": "rel, relógio",
        "it": "orologio",
        "nl": "klok, prikklok",
        "pl": "zeg, zegar",
    },
    "cost_centre": {
        "en": (
            "account code, activity code, budget code, cc, cctr, charge code, charge to, cost account, cost center, "
            "cost centre, cost centre code, cost code, cost ctr, cost object, costctr, general ledger, gl, gl "
            "account, gl code, ledger code, project code"
        ),
        "es": (
            "c coste, c costo, ceco, centro coste, centro de coste, centro de costes, centro de costo, centro de "
            "costos, código contable, código de imputación, cuenta contable, imp contable, imputación, partida, "
            "partida presupuestaria, proyecto"
        ),
        "de": (
            "kontierung, kostenart, kostencode, kostenobjekt, kostenst, kostenstelle, kostenstellennummer, "
            "kostenträger, kostst, kst, ktr, projektnummer, sachkonto"
        ),
        "fr": (
            "analytique, axe analytique, ccoût, centre coût, centre de coût, centre de coûts, centre de frais, code "
            "analytique, code compta, code comptable, code projet, compta, compte comptable, imput, imputation, "
            "section analytique"
        ),
        "pt": (
            "c custo, cc, ccusto, centro de custo, centro de custos, conta contábil, contábil, código contabilístico, "
            "código contábil, imputação, projeto, rateio, rubrica orçamental"
        ),
        "it": (
            "c di costo, capitolo, cdc, centro costo, centro di costo, centro di spesa, codice contabile, commessa, "
            "contabile, conto contabile, imputazione, voce di spesa"
        ),
        "nl": (
            "grb, grootboek, grootboekrekening, kostencode, kostendrager, kostenpl, kostenplaats, kostenplaatscode, "
            "kostensoort, kpl, projectcode"
        ),
        "pl": (
            "centrum kosztów, kod kosztów, kod projektu, konto kosztowe, konto kosztów, koszt, kosztowe, kosztów, "
            "miejsce powstawania kosztów, mpk, nr projektu, zlecenie"
        ),
    },
    "department": {
        "en": (
            "area, branch of work, bu, bus unit, business area, business unit, cell, cost group, crew, dep, "
            "department, department code, department name, dept, dept name, deptmt, desk, directorate, div, division, "
            "dpt, dptmt, function area, functional area, functional team, gang, group, grp, org unit, organisation "
            "unit, organisational unit, organizational unit, organizational unit name, orgunit, ou, sec, sect, "
            "section, sector, service line, shop floor, shop floor unit, squad, subdivision, team, tm, unit, unit "
            "name, work area, work center, work centre, work group, workcentre, workgroup"
        ),
        "es": (
            "área, área de trabajo, brigada, célula, coordinación, cuadrilla, dep, departamento, depto, dirección "
            "general, div, división, dpto, eq, equipo, equipo de trabajo, ger, gerencia, grupo, grupo de trabajo, "
            "jefatura de área, negociado, secc, sección, sect, sector, serv, servicio, subdirección, taller, unid, "
            "unidad, unidad organizativa"
        ),
        "de": (
            "abt, abteil, abteilung, abteilungsbezeichnung, abteilungsname, abtlg, amt, arb ber, arbeitsbereich, "
            "arbeitsgruppe, bereich, dezernat, einheit, einsatzbereich, fachber, fachbereich, fachgebiet, "
            "geschäftsbereich, gewerk, gr, grp, gruppe, hauptabteilung, kolonne, kostenstellenbezeichnung, "
            "meisterbereich, meisterei, oe, org einheit, organisationseinheit, orgeinheit, referat, ressort, "
            "sachgebiet, schichtgruppe, sektion, sektor, sparte, team, trupp"
        ),
        "fr": (
            "affectation, atelier, branche, brigade, bureau d affectation, cellule, dept, département, dépt, dir, "
            "direction, div, division, entité, éq, équipe, équipe de travail, filière, groupe, pole, pôle, pôle d "
            "activité, rayon, sect, secteur, section, serv, service, service d affectation, svc, unité, unité "
            "organisationnelle, uo"
        ),
        "pt": (
            "área, brigada, célula, coordenação, dep, depart, departamento, depto, direção, diretoria, div, divisão, "
            "dpto, eq, equipa, equipe, gerência, grupo, grupo de trabalho, lotação, núcleo, secção, secretaria, seç, "
            "seção, serviço, set, setor, turma, unidade organizacional, uo"
        ),
        "it": (
            "area, cellula, centro di lavoro, dip to, dipartimento, direzione, div, divisione, funzione aziendale, "
            "gruppo, nucleo, officina, rep, reparto, reparto aziendale, serv, servizio, sett, settore, sez, sezione, "
            "sq, squadra, team, u o, uff, ufficio, unità organizzativa, uo"
        ),
        "nl": (
            "afd, afdeling, afdelingsnaam, bureau, business unit, cluster, dienst, div, divisie, gr, groep, oe, "
            "onderd, onderdeel, organisatie eenheid, organisatieonderdeel, ploeg, sect, sectie, sector, team, unit, "
            "werkeenheid, werkgroep"
        ),
        "pl": (
            "bryg, brygada, dep, departament, dz, dział, działu, gniazdo, gr, grupa, jedn org, jednostka, jednostka "
            "organizacyjna, kolumna, kom org, komórka, komórka organizacyjna, obszar, pion, referat, sekc, sekcja, "
            "wydz, wydział, zesp, zespół, zmiana robocza"
        ),
    },
    "place": {
        "en": (
            "access point, area, corridor, door, doorway, entrance, exact location, exit door, floor location, gate, "
            "hall, hallway, hangs, hung, install, installation place, installed at, lobby, location detail, mount, "
            "mounted, mounted at, mounting, mounting place, passage, physical location, place, point, portal, pos, "
            "position, reader place, reader position, room, situated, spot, turnstile, wall, where, zone of building"
        ),
        "es": (
            "acc, acceso, área, colocado en, donde, dónde, empl, emplazamiento, entrada, instalado en, lug inst, "
            "lugar, lugar de instalación, lugar exacto, pared, pasillo, portal, portería, posición, pta, pto, pto "
            "acceso, puerta, punto, punto exacto, sala, sitio exacto, situación, situado en, torniquete, ubicación "
            "exacta, ubicación física, vestíbulo"
        ),
        "de": (
            "anbringung, anbringungsort, angebracht, aufst, aufstellort, aufstellungsort, befestigt, bereich, "
            "durchgang, einb ort, einbauort, eingang, flur, gang, genauer ort, hängt, installationsort, lage, mont "
            "ort, montageort, ort, pforte, platz, pos, position, raum, standplatz, stelle, tor, tür, wand, wo, "
            "zugang, zutrittspunkt"
        ),
        "fr": (
            "acc, accès, couloir, empl, emplacement, emplact, endroit, entrée, hall, installé à, lieu, lieu d "
            "installation, lieu de pose, localisation précise, mur, où, passage, point, point d accès, portail, "
            "porte, posé, position, pt accès, pt d accès, pte, salle, situation, situé, tourniquet, zone d accès"
        ),
        "pt": (
            "acesso, área, catraca, corredor, entrada, instalado em, loc inst, local, local de instalação, local "
            "exato, localiz, localização, lugar, onde, parede, ponto, ponto de acesso, porta, portaria, portão, "
            "posição, pt acesso, pt de acesso, pta, sala, situado em"
        ),
        "it": (
            "accesso, area, atrio, collocazione, corridoio, dove, ingresso, installato, installato in, luogo, luogo "
            "di installazione, luogo inst, muro, porta, portineria, posiz, posizione, posto, presso, pto inst, punto, "
            "punto di accesso, punto di installazione, sala, tornello, ubic, ubicazione, varco"
        ),
        "nl": (
            "deur, doorgang, exacte plaats, gang, geplaatst, hal, hangt, hangt bij, ing, ingang, locatie detail, "
            "montage, montageplaats, muur, opst, opstelplaats, plaats, plaats van ophanging, plek, poort, pos, "
            "positie, ruimte, toeg, toegang, toegangspunt, tourniquet, waar, wand"
        ),
        "pl": (
            "brama, bramka, drzwi, gdzie, hol, korytarz, kołowrót, m montażu, miejsce, miejsce instalacji, miejsce "
            "montażu, msc, pokój, portiernia, pozycja, położenie, przejśc, przejście, punkt dostępu, ściana, "
            "umiejscowienie, usytuowanie, wejście, wisi, zainstalowano, zamontowany"
        ),
    },
    "reader": {
        "en": (
            "apparatus, appliance, biometric device, biometric reader, box, clkpt, clock point, clocking point, "
            "clocking station, controller, dev, device, device name, equipment, geometry reader, hand reader, hand "
            "scanner, hand terminal, hand unit, instrument, machine, palm reader, panel, rdr, reader, reader name, "
            "recorder, scan unit, scanner, source device, station, stn, term, terminal, terminal name, time clock, "
            "time recorder, time terminal, timeclock, unit, unit name"
        ),
        "es": (
            "ap, aparato, biométrico, checador, consola, disp, dispositivo, equipo, equipo de marcación, equipo marc, "
            "estación, fichador, lect, lector, lector de mano, marcador, máquina, punto de fichaje, punto de "
            "marcación, punto de marcaje, reloj, reloj checador, reloj de control, reloj marcador, term, terminal, "
            "terminal de fichaje, unidad lectora"
        ),
        "de": (
            "apparat, buchungsstelle, buchungsterminal, erfassungsgerät, erfassungsstelle, erfassungsterminal, ger, "
            "gerät, geräte, handlesegerät, handleser, handscanner, lesegerät, lesegr, leser, scanner, station, "
            "stationsname, stechuhr, stempelgerät, stempelstelle, stempeluhr, term, terminal, uhr, ze gerät, ze term, "
            "zeiterfassungsgerät, zeiterfassungsterminal, zeitterminal, zutrittsleser"
        ),
        "fr": (
            "appar, appareil, badgeuse, bne, borne, borne de pointage, capteur, dispositif, équipement, horl, "
            "horloge, horod, horodateur, lect, lecteur, lecteur biométrique, lecteur de main, machine, point de "
            "pointage, pointeuse, poste de pointage, scanner, station, term, terminal, unité de lecture"
        ),
        "pt": (
            "apar, aparelho, biómetro, col, coletor, disp, dispositivo, equip, equipamento, estação, leit, leitor, "
            "leitor biométrico, leitor de mão, máquina, máquina de ponto, ponto de marcação, rel ponto, relógio, "
            "relógio de ponto, rep, term, terminal, unidade de leitura"
        ),
        "it": (
            "app, apparato, apparecchio, bollatrice, disp, dispositivo, lett, lettore, lettore di mano, lettore mano, "
            "macchina, marc, marcatempo, orologio, orologio marcatempo, punto di timbratura, rilev, rilevatore, "
            "rilevatore di presenze, rilevatore presenze, scanner, stazione, term, terminale, timbratrice, unità di "
            "lettura"
        ),
        "nl": (
            "app, apparaat, handlezer, handscanner, klok, kloklezer, klokpunt, kloktoestel, lez, lezer, prikkl, "
            "prikklok, prikpunt, registratieapparaat, registratietoestel, scanner, stat, station, term, terminal, "
            "tijdklok, tijdregistratieapparaat, toestel, urenklok"
        ),
        "pl": (
            "aparat, czyt, czytnik, czytnik biometryczny, czytnik dłoni, czytnik kart, kontroler, maszyna, pkt rej, "
            "punkt odbić, punkt rejestracji, rej czasu, rejestrator, skaner, stacja, term, terminal, urządz, "
            "urządzenie, zeg, zegar, zegar kontrolny"
        ),
    },
    "site": {
        "en": (
            "base, bldg, bldng, branch, brnch, building, campus, depot, duty location, establishment, fac, facility, "
            "factory, home site, house, hub, job site, jobsite, loc, location, locn, mill, office, office location, "
            "office site, outlet, place of work, plant, prem, premises, property, region site, shop, site, site code, "
            "station of work, store, unit location, venue, warehouse, whse, wkplce, work location, work place, work "
            "site, workplace, works, wrkloc, yard, yd"
        ),
        "es": (
            "agencia, alm, almacén, campus, casa, centro, centro de trabajo, ctro, ctro trabajo, deleg, delegación, "
            "edificio, emplazamiento de trabajo, estab, establecimiento, fábrica, filial, instalación, local, "
            "localización, lugar de trabajo, nave, obra, ofic, oficina, planta, plantel, punto de venta, recinto, "
            "sede, sitio, suc, sucursal, taller, taller sede, tienda, ubicación"
        ),
        "de": (
            "arbeitsort, arbeitsplatz, arbeitsst, arbeitsstätte, aussenstelle, baustelle, betr st, betr stätte, "
            "betrieb, betriebsort, betriebsstätte, betriebsteil, büro, campus, d ort, dienstort, dienststelle, dst, "
            "einsatzo, einsatzort, einsatzstelle, fabrik, fil, filiale, geb, gebäude, geschäftsstelle, gst, halle, "
            "hauptsitz, haus, laden, lager, lokation, markt, niederlassung, nl, objekt, sitz, stammhaus, stando, "
            "standort, stao, sto, werk, zweigstelle"
        ),
        "fr": (
            "affectation géographique, agc, agce, agence, antenne, bât, bâtiment, boutique, bureau, centre, chantier, "
            "dépôt, emplacement de travail, entrepôt, étab, établissement, étabt, fabrique, filiale, impl, "
            "implantation, lieu d affectation, lieu de service, lieu de travail, lieu trav, localisation, locaux, "
            "mag, magasin, point de vente, siège, site, succ, succursale, usine"
        ),
        "pt": (
            "agência, armazém, centro, delegação, dependência, depósito, edifício, empresa local, escr, escritório, "
            "estab, estabelecimento, fáb, fábrica, fil, filial, inst, instalação, loc trab, local, local de trabalho, "
            "local trabalho, localidade, loja, lotação local, obra, planta, polo, posto de trabalho local, prédio, "
            "sede, sucursal, unid, unidade"
        ),
        "it": (
            "agenzia, cantiere, centro, deposito, distaccamento, edificio, fabbrica, fil, filiale, impianto, "
            "località, località di lavoro, luogo di lavoro, mag, magazzino, negozio, officina, plesso, punto vendita, "
            "sede, sede di lavoro, sede lav, sede operativa, sito, stab, stabil, stabilimento, succursale, u l, "
            "ubicazione sede, ufficio periferico, unità locale, unità produttiva"
        ),
        "nl": (
            "bedrijf, bedrijfslocatie, bedrijfsonderdeel, bouwplaats, depot, fabriek, fil, filiaal, geb, gebouw, "
            "hoofdkantoor, kantoor, loc, locatie, magazijn, nevenvestiging, pand, plaats van tewerkstelling, plant, "
            "site, standpl, standplaats, tewerkstelling, tewerkstellingsplaats, vest, vestiging, werkloc, "
            "werklocatie, werkplaats, werkplek, winkel"
        ),
        "pl": (
            "baza, biuro, bud, budowa, budynek, centrum, delegatura, fabryka, fil, filia, hala, jednostka terenowa, "
            "lok, lokalizacja, m pracy, mag, magazyn, miejsce pracy, ob, obiekt, oddz, oddział, plac, placówka, "
            "punkt, siedziba, sklep, stacja pracy, teren, zakł, zakład, zakład pracy"
        ),
    },
    "zone": {
        "en": (
            "clock zone, iana, iana zone, local zone, olson, t z, t zone, time zone, timezone, tz, tz name, tzid, "
            "tzone, utc offset, zone, zone info, zone name, zone of clock, zoneinfo"
        ),
        "es": "huso, huso horario, uso horario, z h, z hor, zona, zona de tiempo, zona horaria, zona iana",
        "de": "ortszeitzone, tz, uhrzeitzone, zeitz, zeitzone, zeitzonenname, zone, zonenname, zz, zzone",
        "fr": "f h, fus, fus hor, fuseau, fuseau horaire, fuseau iana, heure locale de, z hor, zone, zone horaire",
        "pt": "f hor, fuso, fuso horário, fuso iana, z hor, zona, zona horária",
        "it": "fus, fuso, fuso orario, z or, zona, zona fuso, zona oraria",
        "nl": "t zone, tijdz, tijdzone, tz, zone, zone naam",
        "pl": "str, str czas, strefa, strefa cz, strefa czasowa, strefa czasu, strefa iana",
    },
}
