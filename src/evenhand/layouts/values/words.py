"""What short words in a file stand for, in English, Spanish, German and French; a layout may say otherwise."""

from __future__ import annotations

import unicodedata
from functools import lru_cache

import polars as pl

__all__ = ["WEAK", "WORDS", "YES_NO", "are_totals", "is_total", "plain", "word_set"]


PARTING = {code: " " for code in range(128) if not chr(code).isalnum()}


@lru_cache(maxsize=8192)
def plain(text: str) -> str:
    """Return `text` without accents, case and punctuation, words parted by one space."""
    if text.isascii():
        return " ".join(text.casefold().translate(PARTING).split())
    apart = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(c if c.isalnum() else " " for c in apart if not unicodedata.combining(c))
    return " ".join(letters.split())


def word_set(listed: str) -> frozenset[str]:
    """Return the plain form of words that a comma parts."""
    return frozenset(map(plain, listed.split(",")))


def _meanings(**words: str) -> dict[str, str]:
    return {word: meaning.rstrip("_") for meaning, listed in words.items() for word in word_set(listed)}


WORDS: dict[str, dict[str, str]] = {
    "direction": _meanings(
        in_="in,i,clock in,punch in,arrival,arrive,enter,entry,start,0,entrada,ent,e,entree,entre,arrivee,"
        "kommen,kommt,k,eingang,ein,beginn",
        out="out,o,clock out,punch out,departure,leave,exit,end,1,salida,sal,s,sortie,depart,"
        "gehen,geht,g,ausgang,aus,a,ende",
    ),
    "outcome": _meanings(
        accepted="accepted,accept,ok,yes,y,true,1,granted,success,verified,pass,passed,match,valid,"
        "aceptado,aceptada,si,ja,angenommen,oui,accepte,acceptee",
        refused="refused,refuse,reject,rejected,no,n,false,0,denied,failed,fail,failure,no match,invalid,"
        "rechazado,rechazada,nein,abgelehnt,non,refusee",
    ),
    "plan": _meanings(
        hourly="hourly,hour,per hour,by the hour,por hora,stundenlohn,heure",
        salary_fixed="salary fixed,salary,fixed salary,salary for fixed hours,sueldo,gehalt,salaire",
        salary_fluctuating="salary fluctuating,fluctuating,salary for all hours,fluctuating hours",
        piece="piece,per piece,by the piece,piecework,destajo,akkord",
        day="day,daily,per day,by the day,dia,tag,jour",
        job="job,per job,by the job",
    ),
    "salary_for": _meanings(
        week="week,weekly,semana,woche,semaine",
        half_month="half month,semimonthly,twice a month,quincena",
        month="month,monthly,mes,monat,mois",
    ),
    "kind": _meanings(
        bonus="bonus,production bonus,promised bonus,prima,pramie,prime",
        flat_bonus="flat bonus,attendance bonus,fixed bonus,flat sum bonus",
        commission="commission,comision,provision",
        piece="piece,pieces,piecework",
        job="job,jobs",
        flat_sum="flat sum,task sum,lump sum",
        premium="premium,premium paid,creditable premium",
        gift="gift,discretionary,discretionary bonus",
        expense="expense,expenses,reimbursement,gastos,spesen",
        leave="leave,holiday pay,vacation,sick pay,vacaciones,urlaub",
    ),
}

# Words whose meaning is a convention of the file more than of a language: read, and said aloud.
WEAK: dict[str, frozenset[str]] = {"direction": word_set("0,1,a,s,e")}

YES_NO: dict[str, bool] = {
    **dict.fromkeys(word_set("yes,y,true,t,1,x,si,s,ja,j,oui,o,vrai,wahr,verdadero,supervisor"), True),
    **dict.fromkeys(word_set("no,n,false,f,0,nein,non,faux,falsch,falso,none,user,employee,normal"), False),
}

TOTALS = word_set(
    "total,totals,grand total,sum,subtotal,count,records,rows,end of report,end of file,total rows,total records,"
    "total punches,total hours,suma,totales,total general,summe,gesamt,gesamtsumme,anzahl,totaux,somme"
)
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
