"""Amounts of pay that may be for something else than an hour: a month's salary, an increase in percent, a sum.

A rate is what one hour, or one unit, pays. Where a header speaks of a longer time, of percent or of an increase, or
where most figures are above some hundred of any currency, a person is asked; a column that says of each row for how
long its salary is answers that. Source: common practice, no source; the words are those of the languages.
"""

from __future__ import annotations

from contextlib import suppress
from decimal import Decimal
from statistics import median

from evenhand.layouts.asking import answer_of, label_of, samples_of
from evenhand.layouts.layout import Layout
from evenhand.layouts.matching import Matching
from evenhand.layouts.proposal import NO_COLUMN, Choice, Question
from evenhand.layouts.reading import Cells
from evenhand.layouts.values.coded import Coded, Unfit
from evenhand.layouts.values.fields import cell_parser
from evenhand.layouts.values.words import word_set
from evenhand.layouts.wording.lexicon import words_of
from evenhand.terms.columns import Column
from evenhand.terms.languages import of_file, told
from evenhand.terms.sources import SOURCES

__all__ = ["about_pay_units"]

HOURLY = {"people": "hourly_rate", "rates": "amount"}  # the column of each table that holds rates of pay
MOST_AN_HOUR = 200  # of any currency
SHORTEST_STEM = 5  # letters of a word that another may begin or end with: Monatslohn, miesięczne

OF_AN_HOUR = word_set(
    "hour,hours,hourly,hr,hrly,ph,h,hora,horas,horaria,horario,stunde,stunden,stundlich,stundenlohn,std,stdl,heure,"
    "heures,horaire,ora,orario,oraria,uur,uren,uurloon,uurtarief,godz,godzina,godzine,godzinowa,godzinowe"
)
OF_LONGER = word_set(
    # en
    "day,daily,week,weekly,biweekly,fortnight,fortnightly,month,monthly,semimonthly,mth,year,yearly,annual,annually,"
    "annum,quarterly,pa,pm,pw,"
    # es
    "dia,diario,diaria,semana,semanal,quincena,quincenal,mes,mensual,ano,anual,anuales,"
    # de
    "tag,taglich,tageslohn,tages,woche,wochen,wochentlich,woechentlich,monat,monats,monatlich,jahr,jahres,jahrlich,"
    "jaehrlich,mtl,"
    # fr
    "jour,journalier,journaliere,semaine,hebdomadaire,hebdo,mois,mensuel,mensuelle,annuel,annuelle,annee,"
    # pt
    "diaria,mensal,quinzena,quinzenal,"
    # it
    "giorno,giornaliero,giornaliera,settimana,settimanale,mese,mensile,anno,annuo,annua,annuale,"
    # nl
    "dag,dagloon,wekelijks,weekloon,maand,maandelijks,maandloon,maandsalaris,jaar,jaarlijks,jaarsalaris,"
    # pl
    "dzien,dzienna,dzienne,dniowka,tydzien,tygodniowo,tygodniowe,tygodniowa,mies,miesiac,miesiecznie,miesieczne,"
    "miesieczna,rok,rocznie,roczne,roczna"
)
OF_CHANGE = word_set(
    "percent,percentage,pct,increase,raise,increment,uplift,difference,total,"
    "porcentaje,aumento,incremento,subida,suma,"
    "prozent,erhohung,erhoehung,steigerung,zulage,anhebung,summe,gesamt,"
    "pourcent,pourcentage,augmentation,hausse,majoration,somme,"
    "porcentagem,percentagem,acrescimo,reajuste,soma,"
    "percentuale,incremento,maggiorazione,somma,totale,"
    "procent,verhoging,stijging,toeslag,totaal,"
    "podwyzka,podwyzki,wzrost,przyrost,dodatek,razem,lacznie"
)


def about_pay_units(name: str, matching: Matching, layout: Layout, cells: Cells) -> list[Question]:
    """Return the question about a column of rates of pay that may be no rates of one hour, unless a person said so."""
    table = matching.table.name
    declared = HOURLY.get(table, "")
    sources = matching.best.columns.get(declared, ())
    if declared not in cells.coded or declared in matching.fixed or len(sources) != 1:
        return []
    column = matching.seen[sources[0]]
    typical = _typical(SOURCES[table].column(declared), cells.coded[declared], layout)
    is_high = typical > MOST_AN_HOUR and "plan" not in layout.columns
    if "salary_for" in layout.columns or (_is_of_an_hour(column.header) and not is_high):
        return []
    asks = of_file(
        name,
        told(
            "{column} ({samples}) may be no pay for one hour; is it?",
            column=label_of(column),
            samples=samples_of(column),
        ),
    )
    salary = (
        told(": give salaries in a list of rates with the columns plan, amount and salary_for")
        if table == "people"
        else told(": salaries need a column plan and a column salary_for, which says week, half month or month")
    )
    choices = (
        Choice(declared, told("{column} is what one hour, or one unit of the plan, pays", column=label_of(column))),
        Choice(
            NO_COLUMN,
            told("it is a salary, a percentage, an increase or a sum, and is not read{salary}", salary=salary),
        ),
    )
    return [Question("column", asks, choices, answer_of(column, matching.seen))]


def _is_of_an_hour(header: str) -> bool:
    """Return whether nothing in a header speaks against a rate of one hour: no longer time, percent or increase."""
    words = words_of(header)
    if "%" in header or "‰" in header or any(_is_one(word, OF_CHANGE) for word in words):
        return False
    return any(word in OF_AN_HOUR for word in words) or not any(_is_one(word, OF_LONGER) for word in words)


def _is_one(word: str, known: frozenset[str]) -> bool:
    """Return whether a word is one of these, or a compound that begins or ends with one."""
    return word in known or any(
        len(one) >= SHORTEST_STEM and (word.startswith(one) or word.endswith(one)) for one in known
    )


def _typical(declared: Column, coded: Coded, layout: Layout) -> Decimal:
    """Return the figure in the middle of those that can be read, 0 where none can."""
    parse = cell_parser(declared, decimal=layout.decimal)
    figures: list[Decimal] = []
    for text in filter(None, coded.values):
        with suppress(Unfit):
            figures.append(parse(text))
    return median(figures or [Decimal(0)])
