"""What the cells of a column look like: dates, times, digits, names, words for in and out, zones."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise

from evenhand.layouts.values.kinds import Told, as_dates, as_moments, as_times
from evenhand.layouts.values.money import SIGN, SPACES
from evenhand.layouts.values.no_end import is_no_end
from evenhand.layouts.values.spans import is_span
from evenhand.layouts.values.words import WORDS, YES_NO, plain, word_set
from evenhand.terms.zones import is_zone

__all__ = ["ROLE_MARKS", "Profile", "folded", "is_digits", "profiles_of", "without_zeros"]

BEFORE, AFTER = rf"(?:{SIGN}[{SPACES}]?)?[+-]?", rf"(?:[{SPACES}]?{SIGN})?$"
MONEY = re.compile(rf"{BEFORE}[0-9]+(?:[.,'’{SPACES}][0-9]+)*{AFTER}", re.IGNORECASE)
FRACTION = re.compile(rf"{BEFORE}[0-9]+(?:['’{SPACES}][0-9]{{3}})*[.,][0-9]{{1,4}}{AFTER}", re.IGNORECASE)
NAME = re.compile(r"[^\W\d_][^\d@/]*[ ,][^\d@/]*[^\W\d_]\.?")
ONE_WORD = re.compile(r"[^\W\d_](?:[^\W\d_]|['’.-])*")
CODED = re.compile(r"(?=.*\d)(?=.*[A-Za-z])[A-Za-z0-9]+(?:[-./_ ]?[A-Za-z0-9]+)?$", re.ASCII)
PHONE = re.compile(r"\+?[(\d][\d ()./-]{5,}\d$", re.ASCII)
PARTED = re.compile(r"[+ ()/-]")
ADDRESS = re.compile(r"(?=.*\d)(?=.*[^\W\d_]{3}).*[ ,].*")
MAIL = re.compile(r"[^@\s]+@[^@\s]+\.[^@\s]+$")
ZONE_LIKE = re.compile(r"[A-Z][A-Za-z_]+/[A-Z]|UTC$|GMT$")

# Marks of who may enrol others, where a column of roles holds nothing else: (yes, no).
ROLE_MARKS: tuple[frozenset[str], frozenset[str]] = (
    word_set(
        "admin,administrador,administrateur,administrator,agent de maitrise,amministratore,aufsicht,beheerder,"
        "brygadzista,brygadzistka,capataz,capo,capo squadra,capo turno,caposquadra,capoturno,chargehand,chef,"
        "chef d equipe,chef d'équipe,chefe,chefe de equipa,chefe de equipe,chefe de turno,contremaitre,"
        "crew chief,encadrant,encargada,encargado,encarregada,encarregado,foreman,forewoman,gestor,jefa,jefe,"
        "jefe de equipo,jefe de turno,kierowniczka,kierownik,l,lead,leader,leidinggevende,leiter,leiterin,"
        "leitung,lider,líder,majster,manager,mando,meister,mestre,mgr,mistrz,nadzorca,opzichter,ploegbaas,"
        "ploegchef,ploegleider,polier,preposto,przelozona,przelozony,responsabile,responsable,responsavel,s,"
        "schichtleiter,schichtleiterin,schichtleitung,shift lead,shift leader,sup,superviseur,supervisor,"
        "supervisora,supervisore,supv,team lead,team leader,teamlead,teamleider,teamleiter,teamleiterin,"
        "teamleitung,toezichthouder,v,voorman,vorarbeiter,vorarbeiterin,vorgesetzte,vorgesetzter"
    ),
    word_set(
        "addetta,addetto,agent,angestellte,angestellter,anwender,arbeider,arbeiter,arbeiterin,associate,benutzer,"
        "benutzerin,beschaftigte,beschaftigter,colaborador,colaboradora,collaborateur,colleague,collega,crew,"
        "dipendente,e,emp,empleada,empleado,employe,employee,employé,empregada,empregado,funcionaria,funcionário,"
        "gebruiker,hand,impiegata,impiegato,kollege,kraft,labourer,lavoratore,lavoratrice,m,ma,medewerker,"
        "medewerkster,member,mitarbeiter,mitarbeiterin,n,normal,nutzer,o,obrera,obrero,op,operador,operaia,"
        "operaio,operaria,operario,operateur,operator,operatore,operário,ouvrier,ouvriere,p,personal,pracownica,"
        "pracownik,regular,robotnik,salarie,salarié,staff,trabajador,trabajadora,trabalhador,trabalhadora,u,user,"
        "usuaria,usuario,utente,utilisateur,utilisatrice,utilizador,utilizadora,uzytkownik,w,werkneemster,"
        "werknemer,worker,zatrudniony"
    ),
)

SOME = 0.3  # of the cells, those that may be a date, before all are looked at
MAY_BE_MOMENT = re.compile(r"(?=(?:.*\d){5}).{7,48}")
MAY_BE_DATE = re.compile(r"(?=(?:.*\d){3}).{5,32}")
MAY_BE_TIME = re.compile(r"(?=.*\d).{3,20}")


@dataclass(frozen=True)
class Profile:
    """Some of a column's cells, stripped, in the order of the file; and the shares of the filled ones of each kind."""

    cells: tuple[str, ...]

    @cached_property
    def counts(self) -> Counter[str]:
        """Return how often each text stands in the filled cells."""
        return Counter(cell for cell in self.cells if cell)

    @cached_property
    def size(self) -> int:
        """Return how many cells are filled."""
        return self.counts.total()

    @property
    def filled(self) -> float:
        """Return the share of all cells that are filled."""
        return self.size / max(len(self.cells), 1)

    @property
    def distinct(self) -> float:
        """Return the distinct texts as a share of the filled cells."""
        return len(self.counts) / max(self.size, 1)

    def share(self, test: Callable[[str], bool]) -> float:
        """Return the share of the filled cells that a test lets pass."""
        return sum(count for text, count in self.counts.items() if test(text)) / self.size if self.size else 0.0

    def _told(self, tell: Callable[[Sequence[str]], Told], may_be: re.Pattern[str]) -> Told:
        """Return what the cells tell of days or times; few columns are asked, for that takes a while."""
        if self.share(lambda text: may_be.fullmatch(text) is not None) < SOME:
            nothing: list[int | None] = [None] * len(self.cells)
            return Told(0.0, nothing, nothing, is_bare=False)
        return tell(self.cells)

    @cached_property
    def as_moments(self) -> Told:
        """Return what the cells tell as a date and a time of day in one."""
        return self._told(as_moments, MAY_BE_MOMENT)

    @cached_property
    def as_dates(self) -> Told:
        """Return what the cells tell as dates alone; what stands for no end is a date that tells of no day."""
        return self._told(_as_days, MAY_BE_DATE)

    @cached_property
    def ended(self) -> float:
        """Return the share of all cells that are filled with anything but a day that stands for no end."""
        return self.filled * (1 - self.share(is_no_end))

    @cached_property
    def as_times(self) -> Told:
        """Return what the cells tell as times of day alone."""
        return self._told(as_times, MAY_BE_TIME)

    @property
    def moments(self) -> float:
        """Return the share of cells that hold a date and a time of day."""
        return self.as_moments.share

    @property
    def dates(self) -> float:
        """Return the share of cells that hold a date alone, and visibly so: digits alone look like one by chance."""
        return 0.0 if self.as_dates.is_bare else self.as_dates.share

    @property
    def times(self) -> float:
        """Return the share of cells that hold a time of day alone, and visibly so."""
        return 0.0 if self.as_times.is_bare else self.as_times.share

    @property
    def compact_dates(self) -> float:
        """Return the share of cells of digits alone that can be a date."""
        return self.as_dates.share if self.as_dates.is_bare else 0.0

    @property
    def compact_times(self) -> float:
        """Return the share of cells of digits alone that can be a time of day."""
        return self.as_times.share if self.as_times.is_bare else 0.0

    @cached_property
    def digits(self) -> float:
        """Return the share of cells of digits alone."""
        return self.share(lambda text: is_digits(text.removesuffix(".0")))

    @cached_property
    def amounts(self) -> float:
        """Return the share of numbers, with or without a fraction or the sign of a currency."""
        return self.share(lambda text: MONEY.match(text) is not None)

    @cached_property
    def fractions(self) -> float:
        """Return the share of numbers with a fraction."""
        return self.share(lambda text: FRACTION.match(text) is not None)

    @cached_property
    def names(self) -> float:
        """Return the share of cells of several words without digits, as names are."""
        return self.share(lambda text: NAME.fullmatch(text) is not None)

    @cached_property
    def single_words(self) -> float:
        """Return the share of cells of one word without digits."""
        return self.share(lambda text: ONE_WORD.fullmatch(text) is not None)

    @cached_property
    def coded(self) -> float:
        """Return the share of cells of letters and digits, as identifiers are."""
        return self.share(lambda text: CODED.match(text) is not None)

    @cached_property
    def phones(self) -> float:
        """Return the share of cells that look like a telephone number."""
        return self.share(lambda text: PHONE.match(text) is not None and PARTED.search(text) is not None)

    @cached_property
    def addresses(self) -> float:
        """Return the share of cells of words and digits, as street addresses are."""
        return self.share(lambda text: ADDRESS.match(text) is not None)

    @cached_property
    def mails(self) -> float:
        """Return the share of mail addresses."""
        return self.share(lambda text: MAIL.match(text) is not None)

    @cached_property
    def zones(self) -> float:
        """Return the share of cells that name an IANA time zone."""
        return self.share(_is_zone)

    @cached_property
    def yes_no(self) -> float:
        """Return the share of words for yes and no."""
        return self.share(lambda text: plain(text) in YES_NO)

    @cached_property
    def spans(self) -> float:
        """Return the share of cells that hold two times of day, one after the other."""
        return self.share(is_span)

    @cached_property
    def directions(self) -> float:
        """Return the share of words for in and out."""
        return self.share(lambda text: plain(text) in WORDS["direction"])

    @cached_property
    def outcomes(self) -> float:
        """Return the share of words for accepted and refused."""
        return self.share(lambda text: plain(text) in WORDS["outcome"])

    @cached_property
    def roles(self) -> bool:
        """Return whether all cells are marks of who may enrol others, of both kinds."""
        seen = {plain(text) for text in self.counts}
        yes, no = ROLE_MARKS
        return bool(seen & yes) and bool(seen & no) and seen <= yes | no

    @cached_property
    def widths(self) -> Counter[int]:
        """Return how many distinct numbers of digits alone have each length."""
        return Counter(len(text.removesuffix(".0")) for text in self.counts if is_digits(text.removesuffix(".0")))

    @cached_property
    def is_counting(self) -> bool:
        """Return whether the cells count rows: whole numbers that rise by one step, from 0, 1 or the like."""
        if self.digits < 0.9 or self.size < 4 or any(text.startswith("0") and len(text) > 1 for text in self.counts):
            return False
        values = [int(text.removesuffix(".0")) for text in self.cells if is_digits(text.removesuffix(".0"))]
        steps = Counter(after - before for before, after in pairwise(values))
        step, count = steps.most_common(1)[0]
        # Rows that are left out, or written twice, are skipped here and there.
        return step > 0 and count >= 0.7 * len(values) - 1 and min(steps) >= 0 and values[0] <= max(steps)

    @property
    def days(self) -> list[int | None]:
        """Return the day of each cell, None where it holds none."""
        return self.as_moments.days if self.moments >= max(self.as_dates.share, SOME) else self.as_dates.days

    @cached_property
    def folded(self) -> Counter[str]:
        """Return how often each text stands in the filled cells, in small letters."""
        found: Counter[str] = Counter()
        for text, count in self.counts.items():
            found[folded(text)] += count
        return found

    def known(self, listed: Collection[str]) -> float:
        """Return the share of filled cells that are among texts in small letters."""
        return sum(count for text, count in self.folded.items() if text in listed) / self.size if self.size else 0.0


def _as_days(cells: Sequence[str]) -> Told:
    ended = ["" if is_no_end(cell) else cell for cell in cells]
    if any(ended) or not any(cells):
        return as_dates(ended)
    return Told(1.0, [None] * len(cells), [None] * len(cells), is_bare=False)


@lru_cache(maxsize=1 << 14)
def folded(text: str) -> str:
    """Return a text in small letters, its words parted by one space."""
    return " ".join(text.casefold().split())


MOST_DIGITS = 100


def is_digits(text: str) -> bool:
    """Return whether a text holds the digits 0 to 9 alone, and one at least; hundreds of them are no number."""
    return text.isascii() and text.isdigit() and len(text) <= MOST_DIGITS


def without_zeros(text: str) -> str:
    """Return a number without the zeros at its beginning and what a spreadsheet adds at its end."""
    return text.removesuffix(".0").lstrip("0")


@lru_cache(maxsize=1 << 12)
def _is_zone(text: str) -> bool:
    # Dates with strokes are many, and looking for a zone that is not there is slow.
    return ZONE_LIKE.match(text) is not None and is_zone(text)


def profiles_of(columns: Sequence[Sequence[str]]) -> tuple[Profile, ...]:
    """Return the profile of each column from some of its cells."""
    return tuple(Profile(tuple(cell.strip() for cell in cells)) for cells in columns)
