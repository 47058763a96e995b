"""Words for days and times of day, and for what begins and ends. Common practice, no source."""

from __future__ import annotations

__all__ = ["OF_TIMES"]

OF_TIMES: dict[str, dict[str, str]] = {
    "date": {
        "en": "cal date, calendar date, calendar day, date, day, dt, dte, dy",
        "es": "día, f, fch, fec, fecha",
        "de": "dat, datum, kalendertag, tag, tg",
        "fr": "date, dt, jour, journée, jr, le",
        "pt": "dat, data, dia, dt, dt a",
        "it": "dat, data, dt, gg, giornata, giorno",
        "nl": "dag, dat, datum, dtm",
        "pl": "dat, data, dn, dnia, dt, dz, dzień",
    },
    "end": {
        "en": (
            "ceased, close, conclude, concludes, conclusion, end, ended, endg, ending, ends, ends at, exp, expire, "
            "expires, expiry, fin, final, finish, finished, finishes, finishes at, fnsh, off at, off duty, on duty "
            "until, stop, stops, through, thru, til, till, to, until, up to"
        ),
        "es": (
            "a, acaba, acabó, cierre, conclusión, concluye, fin, final, finaliza, hasta, hasta el, termina, terminó, "
            "térm, término"
        ),
        "de": (
            "abschluss, b, beendet, bis, end, ende, endet, endgültig, endzeit, feierabend, hört auf, schl, schluss, "
            "stopp"
        ),
        "fr": (
            "au, à, clôture, fin, final, finale, finit, finit à, jsq, jusqu, jusqu au, jusqu à, se termine, termine, "
            "terminé, terminée"
        ),
        "pt": (
            "a, acaba, acaba às, até, até às, às, conclusão, encerra, encerramento, fim, final, finaliza, termina, "
            "terminou, térm, término"
        ),
        "it": (
            "a, al, alle, alle ore, chiusura, conclusione, fi, finale, fine, finisce, finisce alle, fino, fino a, "
            "fino al, fino alle, termina, terminato, termine"
        ),
        "nl": (
            "afloop, beëindigd, eind, einde, eindigt, geëindigd, gestopt, klaar, sluit, stop, t m, tem, tot, tot en met"
        ),
        "pl": (
            "do, finisz, kon, koniec, końcowa, kończy, kończy się, stop, zak, zakończenia, zakończenie, zakończył, "
            "zakończyła"
        ),
    },
    "hours": {
        "en": "hours, hr count, hrs, man hours",
        "es": "horas, hrs, hs",
        "de": "std, stdn, stunden",
        "fr": "heures, hres, hrs",
        "pt": "horas, hrs, hs",
        "it": "ore",
        "nl": "u, uren",
        "pl": "godz, godzin, godziny",
    },
    "in": {
        "en": (
            "arrival, arrive, arrives, arriving, check in, clock in, coming, entering, enters, entry, in, inbound, "
            "ins, inward"
        ),
        "es": "acceso de entrada, ent, entra, entrada, entrante, entró, ingr, ingreso, llegada",
        "de": "ankommend, ankunft, ein, eingang, kommen, kommt, rein, zugang, zutritt",
        "fr": "arr, arrive, arrivée, entr, entrant, entre, entré, entrée",
        "pt": "chegada, ent, entr, entra, entrada, entrante, entrou, ingresso",
        "it": "arrivo, entr, entra, entra alle, entrante, entrata, entrato, ingr, ingresso",
        "nl": "aankomst, binnen, binnenkomst, in, ingang, inkomend, inkomst, komen, komt",
        "pl": "przyj, przyjścia, przyjście, wchodzący, wchodzi, we, wej, wejścia, wejście, wszedł, wszedł wejściem",
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
    "moment": {
        "en": (
            "date and time, date hour, date time, date tm, datetime, dt tm, dtm, dttm, epoch, instant, moment, "
            "occurred, occurred at, occurrence, time stamp, timestamp, ts, tstamp, when"
        ),
        "es": (
            "cuándo, f h, fec y hora, fecha hora, fecha y hora, fh, instante, marca de tiempo, marca temporal, "
            "momento, ocurrido, sello de tiempo"
        ),
        "de": (
            "augenblick, dat uhrz, datum uhrzeit, datum und uhrzeit, datum und zeit, datumzeit, erfasst um, moment, "
            "wann, zeitpunkt, zeitst, zeitstempel, zp"
        ),
        "fr": "d h, date et heure, date heure, dt h, horod, horodatage, horodaté, inst, instant, moment, quand",
        "pt": (
            "carimbo, carimbo de data, carimbo de tempo, data e hora, data h, data hora, dh, dt hr, instante, "
            "momento, quando"
        ),
        "it": (
            "d o, data e ora, data ora, dt ora, istante, marca temporale, marcatura temporale, momento, quando, "
            "timestamp"
        ),
        "nl": (
            "dat tijd, datum en tijd, datum tijd, datumtijd, mom, moment, ogenblik, tijdst, tijdstempel, tijdstip, "
            "wanneer"
        ),
        "pl": (
            "chwila, data czas, data godzina, data i czas, data i godzina, dt i godz, kiedy, moment, stempel czasu, "
            "znacznik czasu"
        ),
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
    "out": {
        "en": "check out, clock out, depart, departs, departure, exit, going, leaving, out, outbound, outs, outward",
        "es": "egreso, partida, sal, sale, salida, saliente, salió",
        "de": "abgang, abgehend, aus, ausgang, gehen, geht, raus, verlassen",
        "fr": "dép, départ, sort, sortant, sorti, sortie",
        "pt": "partida, sai, sainte, saiu, saíd, saída",
        "it": "esce, esce alle, partenza, usc, uscente, uscita, uscito",
        "nl": "buiten, gaan, gaat, uit, uitgaand, uitgang, vertrek, vertrokken, weggaan",
        "pl": "wy, wychodzący, wychodzi, wyj, wyjścia, wyjście, wyszedł",
    },
    "period": {
        "en": "frequency, interval, pay cycle, pay frequency, pay period, period, salary for, salary period",
        "es": "ciclo de pago, frecuencia de pago, periodicidad, periodo, período",
        "de": "abrechnungszeitraum, periode, turnus, zahlungsweise, zahlungszeitraum, zeitraum",
        "fr": "fréquence de paie, période, périodicité",
        "pt": "frequência de pagamento, periodicidade, período",
        "it": "cadenza, frequenza, periodicità, periodo",
        "nl": "betalingsperiode, frequentie, periode, tijdvak",
        "pl": "cykl, częstotliwość, okres, okres płacowy",
    },
    "shift": {
        "en": (
            "assignment, duties, duty, pl, plan, planned, rost, roster, rostered, rostering, rota, sch, sched, "
            "schedule, scheduled, sh, shft, shift, shifts, tour, watch, working time planned"
        ),
        "es": (
            "cuadrante, guardia, horario, jorn, jornada, planificada, planificado, planilla de turnos, prev, "
            "prevista, previsto, programada, programado, rotación, servicio, tur, turno, turnos"
        ),
        "de": (
            "arbeitszeit geplant, dienst, dienstplan, einsatz, einsatzplan, geplant, geplante, plan, planung, rahmen, "
            "sch, schicht, schichten, soll, turnus"
        ),
        "fr": (
            "équipe, horaire prévu, planifié, planifiée, planning, poste, prév, prévu, prévue, pste, quart, "
            "roulement, service, tour, vacation"
        ),
        "pt": (
            "esc, escala, horário previsto, jorn, jornada, planeado, planejado, plantão, prev, prevista, previsto, "
            "programado, serviço, tur, turno"
        ),
        "it": (
            "giornata lavorativa, pianificata, pianificato, planning, prev, prevista, previsti, previsto, "
            "programmato, rotazione, servizio, turni, turno"
        ),
        "nl": (
            "dienst, dnst, gepl, gepland, geplande, inroostering, planning, ploeg, ploegendienst, roost, rooster, "
            "shift, werkdag gepland"
        ),
        "pl": (
            "dniówka, dyżur, graf, grafik, harmonogram, plan, planowana, planowane, planowany, przewidziany, służba, "
            "zm, zmiana, zmiany"
        ),
    },
    "start": {
        "en": (
            "as from, as of, beg, begin, beginning, begins, begins at, commence, commences, fr, from, initial, on at, "
            "on duty from, opening, outset, since, start, start at, start of, started, starting, starts, starts at, "
            "strt"
        ),
        "es": (
            "a partir de, a partir del, arranque, com, comenzó, comienza, comienza a, comienzo, de, desde, desde el, "
            "empezó, empieza, ini, inicia, inicial, inicio"
        ),
        "de": (
            "ab, an ab, anf, anfang, antritt, beg, beginn, beginnt, begonnen, erster, fängt an, seit, start, startet, "
            "startzeit, v, von"
        ),
        "fr": (
            "à compter du, à partir de, à partir du, commence, commence à, de, depuis, dès, déb, début, débute, "
            "débuté, démarrage, du, initial, initiale, prise, prise de poste, prise de service"
        ),
        "pt": (
            "a contar de, a partir de, arranque, começa, começa às, começo, começou, das, de, desde, ini, inic, "
            "inicia, inicial, iniciou, iníc, início"
        ),
        "it": (
            "a partire da, a partire dal, avvio, comincia, comincia alle, comincia da, da, dal, dalle, dalle ore, "
            "dallo, ini, inizia, iniziale, iniziato, inizio, principio"
        ),
        "nl": (
            "aanv, aanvang, aanvangs, beg, begin, begint, begonnen, gestart, m i v, met ingang van, miv, opening, "
            "per, sinds, start, v, va, van, vanaf"
        ),
        "pl": (
            "od, od dnia, od godziny, od kiedy, pocz, poczatek, początek, początkowa, począwszy od, rozp, rozpoczął, "
            "rozpoczęcia, rozpoczęcie, rozpoczęła, start, zaczyna, zaczyna się"
        ),
    },
    "time": {
        "en": "clock time, hhmm, hour, hr, time, time of day, tm, tme, tod",
        "es": "h, hora, horario, hr, hrs",
        "de": "stunde, uhr, uhrz, uhrzeit, um, zeit, zeitangabe",
        "fr": "h, heure, horaire, hr, hre",
        "pt": "h, hora, horário, hr, hrs",
        "it": "h, o, or, ora, orario, ore",
        "nl": "klokuur, td, tijd, tijdst, tijdstip van boeking, uur",
        "pl": "czas, g, godz, godzina, pora",
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
    "weekly": {
        "en": "per week, week, weekly, wk, wkly",
        "es": "por semana, semana, semanal, semanales",
        "de": "je woche, woche, wochen, wochenstunden, wö, wöchentlich",
        "fr": "hebdo, hebdomadaire, par semaine, semaine",
        "pt": "por semana, semana, semanais, semanal",
        "it": "a settimana, sett, settimana, settimanale, settimanali",
        "nl": "per week, week, wekelijks, wk",
        "pl": "na tydzień, tydzień, tyg, tygodniowa, tygodniowo, tygodniowy",
    },
    "workday": {
        "en": "business date, business day, work date, work day, workday, working day",
        "es": "día de trabajo, día laboral, día trabajado, fecha de trabajo, fecha laboral, jornada",
        "de": "arbeitsdatum, arbeitstag, d tag, diensttag, einsatztag, plantag, werktag",
        "fr": "date de travail, jour de travail, jour ouvré, jour trav, journée, journée de travail, jr trav",
        "pt": "data de trabalho, dia de trabalho, dia trabalhado, dia útil, jorn, jornada",
        "it": "data di lavoro, gg lav, giornata, giornata di lavoro, giorno di lavoro, giorno lav, giorno lavorativo",
        "nl": "arbeidsdag, dag werk, diensttag, werkdag, werkdatum",
        "pl": "data pracy, dn, dniówka, dzień pracy, dzień roboczy, dzień roboty",
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
