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
        in_=(
            # en
            "arrival,arrive,arrived,arrives,arriving,begin,check in,checked in,clock in,clocked in,come,comes,"
            "coming,enter,entered,entering,enters,entrance,entry,i,in,inbound,ingress,inside,inward,log in,"
            "on duty,punch in,punched in,sign in,signed in,start,start of work,swipe in,0,"
            # es
            "adentro,comienzo,dentro,e,ent,entr,entra,entrada,entro,ingr,ingresa,ingreso,inicio,llega,llegada,"
            # de
            "anfang,ankunft,anmeldung,arbeitsbeginn,beginn,betreten,dienstbeginn,ein,eingang,eingestempelt,"
            "eintritt,gekommen,hinein,k,ko,kom,kommen,kommend,kommt,rein,zugang,zutritt,"
            # fr
            "arr,arrivee,debut,debut de poste,dedans,entrant,entre,entree,prise de poste,"
            # pt
            "chega,chegada,chegou,comeco,entrou,"
            # it
            "arriva,arrivo,entrata,entrato,ingresso,inizio,"
            # nl
            "aankomst,aanvang,binnen,binnenkomst,gekomen,inchecken,ingang,ingeklokt,inklokken,inkomen,inkomend,"
            "inkomst,komen,komt,"
            # pl
            "poczatek,przybycie,przychodzi,przyj,przyjscie,przyszedl,rozpoczecie,wchodzi,we,wej,wejscie,wszedl"
        ),
        out=(
            # en
            "check out,checked out,clock out,clocked out,depart,departed,departing,departs,departure,egress,end,"
            "end of work,exit,exited,exiting,exits,finish,go,goes,going,gone,leave,leaves,leaving,left,log out,o,"
            "off duty,out,outbound,outside,outward,punch out,punched out,sign out,signed out,stop,swipe out,1,"
            # es
            "afuera,egr,egresa,egreso,fin,fuera,s,sal,sale,salida,salio,termino,"
            # de
            "a,abgang,abmeldung,arbeitsende,aus,ausgang,ausgestempelt,austritt,dienstende,ende,g,ge,gegangen,geh,"
            "gehen,gehend,geht,hinaus,raus,schluss,verlassen,weggang,"
            # fr
            "dehors,dep,fin de poste,quitte,sor,sort,sortant,sorti,sortie,"
            # pt
            "fim,fora,partida,sai,saida,saiu,"
            # it
            "esce,fine,fuori,partenza,u,usc,uscita,uscito,"
            # nl
            "buiten,eind,einde,gaan,gaat,gegaan,uit,uitchecken,uitgaand,uitgang,uitgeklokt,uitklokken,vertrek,"
            "vertrekt,vertrokken,weg,"
            # pl
            "koniec,odejscie,opuszczenie,wy,wychodzi,wyj,wyjscie,wyszedl,zakonczenie"
        ),
    ),
    "outcome": _meanings(
        accepted=(
            # en
            "accept,acceptance,accepted,access granted,admitted,allowed,approved,authenticated,authorised,"
            "authorized,cleared,confirmed,good,grant,granted,identified,match,matched,ok,okay,pass,passed,"
            "permitted,positive,recognised,recognized,success,successful,true,valid,verified,y,yes,1,"
            # es
            "acceso permitido,acepta,aceptada,aceptado,admitida,admitido,aprobada,aprobado,autorizada,autorizado,"
            "coincide,concedido,confirmado,conforme,correcta,correcto,exito,exitoso,identificado,permitida,"
            "permitido,reconocida,reconocido,si,valida,validada,validado,valido,verificado,"
            # de
            "akzeptiert,angenommen,berechtigt,bestanden,bestatigt,erfolg,erfolgreich,erkannt,erlaubt,freigabe,"
            "freigegeben,genehmigt,gewahrt,gultig,i o,identifiziert,in ordnung,io,j,ja,positiv,richtig,treffer,"
            "ubereinstimmung,verifiziert,zugelassen,zutritt gewahrt,"
            # fr
            "accepte,acceptee,acces autorise,accorde,admis,admise,autorise,autorisee,bon,concordant,confirme,"
            "identifie,oui,permis,reconnu,reconnue,reussi,reussie,reussite,succes,valide,validee,verifie,"
            "verifiee,"
            # pt
            "aceita,aceite,aceito,acesso permitido,aprovada,aprovado,concedida,confere,correta,correto,"
            "identificada,liberada,liberado,reconhecida,reconhecido,sim,sucesso,verificada,"
            # it
            "accesso consentito,accettata,accettato,ammessa,ammesso,approvata,approvato,autorizzata,autorizzato,"
            "concesso,confermata,confermato,consentita,consentito,convalidata,convalidato,corretto,positivo,"
            "riconosciuta,riconosciuto,riuscita,riuscito,superato,verificata,verificato,"
            # nl
            "aanvaard,akkoord,bevestigd,geaccepteerd,geldig,gelukt,geslaagd,geverifieerd,goed,goedgekeurd,"
            "herkend,in orde,juist,toegang verleend,toegelaten,toegestaan,verleend,"
            # pl
            "dopuszczono,dostep przyznany,poprawna,poprawne,poprawny,potwierdzona,potwierdzono,potwierdzony,"
            "pozytywna,pozytywne,pozytywny,prawidlowa,prawidlowe,prawidlowy,przyjeta,przyjete,przyjeto,przyjety,"
            "przyznano,rozpoznana,rozpoznano,rozpoznany,sukces,tak,udana,udane,udany,wazne,wazny,zaakceptowana,"
            "zaakceptowane,zaakceptowano,zaakceptowany,zatwierdzono,zatwierdzony,zezwolono,zgodna,zgodne,zgodny,"
            "zidentyfikowano,zweryfikowano,zweryfikowany"
        ),
        refused=(
            # en
            "access denied,bad,declined,denied,deny,disallowed,fail,failed,failure,false,invalid,mismatch,n,"
            "negative,no,no match,non match,not accepted,not admitted,not allowed,not approved,not authorised,"
            "not authorized,not matched,not permitted,not recognised,not recognized,not valid,not verified,"
            "refusal,refuse,refused,reject,rejected,rejection,unauthorised,unauthorized,unrecognised,"
            "unrecognized,unsuccessful,unverified,0,"
            # es
            "acceso denegado,denegada,denegado,desaprobado,fallido,fallo,incorrecta,incorrecto,invalida,invalido,"
            "negado,no aceptada,no aceptado,no admitido,no autorizada,no autorizado,no coincide,no conforme,"
            "no permitido,no reconocida,no reconocido,no valida,no valido,no verificado,rechazada,rechazado,"
            "rechazo,"
            # de
            "abgelehnt,abgewiesen,falsch,fehler,fehlgeschlagen,fehlschlag,gesperrt,kein treffer,"
            "keine ubereinstimmung,misserfolg,n i o,negativ,nein,nicht akzeptiert,nicht angenommen,"
            "nicht berechtigt,nicht bestanden,nicht erkannt,nicht freigegeben,nicht in ordnung,nicht verifiziert,"
            "nicht zugelassen,nio,unberechtigt,ungultig,verweigert,zuruckgewiesen,zutritt verweigert,"
            # fr
            "acces refuse,bloque,echec,echoue,interdit,invalide,mauvais,non,non accepte,non acceptee,non admis,"
            "non autorise,non autorisee,non concordant,non reconnu,non reconnue,non valide,non validee,"
            "non verifie,refus,refusee,rejet,rejete,rejetee,"
            # pt
            "acesso negado,bloqueada,bloqueado,erro,falha,falhou,incorreta,incorreto,nao,nao aceita,nao aceite,"
            "nao aceito,nao aprovado,nao autorizada,nao autorizado,nao confere,nao conforme,nao permitido,"
            "nao reconhecida,nao reconhecido,nao valido,nao verificado,negada,recusa,recusada,recusado,rejeitada,"
            "rejeitado,reprovado,"
            # it
            "accesso negato,bloccato,errato,fallita,fallito,negata,negativo,negato,non accettata,non accettato,"
            "non ammesso,non autorizzato,non confermato,non consentito,non riconosciuta,non riconosciuto,"
            "non riuscita,non riuscito,non valida,non valido,non verificato,respinta,respinto,rifiutata,"
            "rifiutato,rifiuto,scartato,"
            # nl
            "afgekeurd,afgewezen,fout,geblokkeerd,geweigerd,mislukt,nee,niet aanvaard,niet akkoord,"
            "niet geaccepteerd,niet geldig,niet geverifieerd,niet goedgekeurd,niet herkend,niet in orde,"
            "niet toegelaten,niet toegestaan,ongeldig,onjuist,toegang geweigerd,weigering,"
            # pl
            "blad,bledna,bledne,bledny,brak zgodnosci,negatywna,negatywne,negatywny,nie,nie dopuszczono,"
            "nie potwierdzono,nie przyjeto,nie rozpoznano,nie zaakceptowano,nie zweryfikowano,niepoprawna,"
            "niepoprawne,niepoprawny,niepotwierdzony,nieprawidlowa,nieprawidlowe,nieprawidlowy,nierozpoznano,"
            "nierozpoznany,nieudana,nieudane,nieudany,niewazny,niezgodna,niezgodne,niezgodny,odmowa,odmowiono,"
            "odrzucona,odrzucone,odrzucono,odrzucony,zablokowano,zablokowany"
        ),
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
        word_set(
            "yes,y,true,t,1,x,si,s,ja,j,oui,o,sim,tak,vrai,wahr,verdadero,verdadeiro,vero,waar,prawda,supervisor,v,w"
        ),
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
