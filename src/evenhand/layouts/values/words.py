"""What short words in a file stand for, in eight languages; a layout may say otherwise.

Source: common practice, no source; the words are those of the languages, and what cannot be told apart is not there
(Polish "w" begins the words for both ways).
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from functools import lru_cache

import polars as pl

__all__ = ["WEAK", "WORDS", "YES_NO", "are_totals", "are_units", "is_total", "plain", "word_set"]


STROKED = str.maketrans("łøđ", "lod")
"""Letters that Unicode does not take apart into a letter and a mark."""

PARTING = {code: " " for code in range(128) if not chr(code).isalnum()}


@lru_cache(maxsize=8192)
def plain(text: str) -> str:
    """Return `text` without accents, case and punctuation, words parted by one space."""
    if text.isascii():
        return " ".join(text.casefold().translate(PARTING).split())
    apart = unicodedata.normalize("NFKD", text.casefold().translate(STROKED))
    letters = "".join(c if c.isalnum() else " " for c in apart if not unicodedata.combining(c))
    return " ".join(letters.split())


def word_set(listed: str) -> frozenset[str]:
    """Return the plain form of words that a comma parts."""
    return frozenset(map(plain, listed.split(",")))


def _meanings(**words: str) -> dict[str, str]:
    return {word: meaning.rstrip("_") for meaning, listed in words.items() for word in word_set(listed)}


WORDS: dict[str, dict[str, str]] = {
    "direction": _meanings(
        in_="in,i,clock in,punch in,arrival,arrive,arrived,enter,entry,start,0,entrada,ent,entra,e,entree,entre,"
        "arrivee,debut,kommen,kommt,k,eingang,ein,eintritt,beginn,ankunft,entrata,ingresso,inizio,arrivo,inkomen,binnen,"
        "binnenkomst,aankomst,komen,wejscie,we,wej,przyjscie,przyj,rozpoczecie,chegada,inicio",
        out="out,o,clock out,punch out,departure,leave,left,exit,end,1,salida,sal,sale,s,sortie,sort,depart,fin,"
        "gehen,geht,g,ausgang,aus,austritt,a,ende,uscita,usc,u,fine,uitgang,uit,buiten,vertrek,gaan,"
        "wyjscie,wy,wyj,zakonczenie,saida,sai,partida",
    ),
    "outcome": _meanings(
        accepted="accepted,accept,ok,yes,y,true,1,granted,success,successful,verified,pass,passed,match,matched,valid,"
        "recognised,recognized,identified,approved,allowed,permitted,permitido,permitida,autorizado,autorizada,aceptado,aceptada,si,correcto,correcta,valido,valida,reconocido,reconocida,"
        "ja,j,angenommen,akzeptiert,erkannt,gultig,erfolgreich,zugelassen,oui,accepte,acceptee,reconnu,reconnue,valide,"
        "reussi,sim,aceite,aceito,aceita,reconhecido,reconhecida,aprovado,aprovada,accettato,accettata,riconosciuto,"
        "riconosciuta,riuscito,riuscita,geaccepteerd,herkend,goedgekeurd,akkoord,geldig,gelukt,tak,przyjeto,przyjety,"
        "przyjete,przyjeta,zaakceptowano,zaakceptowany,zaakceptowane,rozpoznano,rozpoznany,poprawny,poprawne,udane",
        refused="refused,refuse,reject,rejected,no,n,false,0,denied,failed,fail,failure,no match,not matched,invalid,"
        "not recognised,not recognized,declined,rechazado,rechazada,denegado,denegada,incorrecto,incorrecta,"
        "no reconocido,no reconocida,no valido,invalido,nein,abgelehnt,abgewiesen,zuruckgewiesen,verweigert,"
        "nicht erkannt,ungultig,fehlgeschlagen,non,refusee,rejete,rejetee,non reconnu,non reconnue,echec,invalide,"
        "nao,recusado,recusada,rejeitado,rejeitada,negado,negada,nao reconhecido,nao reconhecida,rifiutato,rifiutata,"
        "respinto,respinta,negato,negata,non riconosciuto,non riconosciuta,non valido,fallito,nee,geweigerd,afgewezen,"
        "niet herkend,ongeldig,mislukt,nie,odrzucono,odrzucony,odrzucone,odrzucona,odmowa,nie rozpoznano,"
        "nierozpoznano,nierozpoznany,niepoprawny,niepoprawne,nieudane",
    ),
    "plan": _meanings(
        hourly="hourly,hour,per hour,by the hour,por hora,hora,horas,stundenlohn,stunde,stunden,heure,horaire,"
        "ora,a ora,orario,uur,per uur,uurloon,godzina,godzinowo,godzinowa",
        salary_fixed="salary fixed,salary,salaried,fixed salary,salary for fixed hours,sueldo,salario,gehalt,"
        "festgehalt,salaire,salaire fixe,stipendio,salaris,pensja",
        salary_fluctuating="salary fluctuating,fluctuating,salary for all hours,fluctuating hours",
        piece="piece,per piece,by the piece,piecework,destajo,akkord,stuck,stucklohn,a la piece,peca,cottimo,stuk,"
        "stukloon,akord",
        day="day,daily,per day,by the day,dia,diario,tag,taglich,jour,journalier,giorno,dag,dagloon,dzien,dniowka",
        job="job,per job,by the job",
    ),
    "salary_for": _meanings(
        week="week,weekly,semana,semanal,woche,wochentlich,semaine,hebdomadaire,settimana,settimanale,wekelijks,"
        "tydzien,tygodniowo",
        half_month="half month,semimonthly,semi monthly,twice a month,quincena,quincenal,quinzena",
        month="month,monthly,mes,mensual,mensal,monat,monatlich,mois,mensuel,mese,mensile,maand,maandelijks,"
        "miesiac,miesiecznie",
    ),
    "kind": _meanings(
        bonus="bonus,production bonus,promised bonus,prima,pramie,prime,premio,premie,premia",
        flat_bonus="flat bonus,attendance bonus,fixed bonus,flat sum bonus",
        commission="commission,comision,provision,comissao,provvigione,commissie,prowizja",
        piece="piece,pieces,piecework",
        job="job,jobs",
        flat_sum="flat sum,task sum,lump sum",
        premium="premium,premium paid,creditable premium",
        gift="gift,discretionary,discretionary bonus",
        expense="expense,expenses,reimbursement,gastos,spesen,frais,despesas,spese,onkosten,koszty",
        leave="leave,holiday pay,vacation,sick pay,vacaciones,urlaub,conges,ferias,ferie,vakantie,verlof,urlop",
    ),
}

# Words whose meaning is a convention of the file more than of a language: read, and said aloud.
WEAK: dict[str, frozenset[str]] = {"direction": word_set("0,1,a,s,e,u")}

YES_NO: dict[str, bool] = {
    **dict.fromkeys(
        word_set("yes,y,true,t,1,x,si,s,ja,j,oui,o,sim,tak,vrai,wahr,verdadero,verdadeiro,vero,waar,prawda,supervisor"),
        True,
    ),
    **dict.fromkeys(
        word_set("no,n,false,f,0,nein,non,nao,nee,nie,faux,falsch,falso,onwaar,falsz,none,user,employee,normal"),
        False,
    ),
}

TOTALS = word_set(
    "total,totals,grand total,sum,subtotal,count,records,rows,end of report,end of file,total rows,total records,"
    "total punches,total hours,suma,totales,total general,summe,gesamt,gesamtsumme,anzahl,totaux,somme,soma,totais,"
    "totale,somma,totaal,som,aantal,razem,ogolem,liczba,total de registros,fin del informe,"
    "ende des berichts,fin du rapport"
)
UNITS = word_set(
    "text,string,char,varchar,alphanumeric,digits,digit,number,numeric,integer,int,decimal,float,boolean,bool,date,time,"
    "datetime,timestamp,code,yyyy,yy,mmm,mm,m,dd,d,hh,h,hour,hours,min,minutes,ss,s,sec,seconds,am,pm,am pm,"
    "texto,numero,fecha,hora,datum,zeit,uhrzeit,zahl,ziffern,jjjj,tt,std,texte,nombre,heure,aaaa,jj,testo,data,ora"
)
"""What stands under a header to say of what kind or unit a column is. Source: common practice, no source."""

LONGEST_TOTAL = 60  # characters of a cell that may still say that its row is one of totals


def are_totals(first_cells: pl.Series) -> pl.Series:
    """Return which rows are lines of totals, by their first cells: `is_total`, asked once for what may be one."""
    cells = first_cells.str.strip_chars()
    # A word stands first, and behind the number of a total no letter; so the rows of a log are not asked one by one.
    likely = cells.str.contains(r"^[^\p{L}\p{N}]*\p{L}{3}") & ~cells.str.contains(r"\p{N}.*\p{L}")
    likely &= cells.str.len_chars() <= LONGEST_TOTAL
    return cells.is_in([cell for cell in cells.filter(likely).unique() if is_total(cell)])


def is_total(first_cell: str) -> bool:
    """Return whether a row that begins so is a line of totals: a word for it, perhaps with a number behind it."""
    words = plain(first_cell).split()
    while words and words[-1].isdigit():
        words.pop()
    return " ".join(words) in TOTALS


def are_units(cells: Sequence[str]) -> bool:
    """Return whether cells under a header say what kinds or units its columns are of, as (text), hh:mm or number do."""
    words = [plain(cell).split() for cell in cells if cell.strip()]
    return len(words) > 1 and all(each and UNITS.issuperset(each) for each in words)
