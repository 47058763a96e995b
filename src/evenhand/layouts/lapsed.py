"""Columns that may say which rows no longer hold: deleted, removed, voided, cancelled.

evenhand has no place for them, and a row that somebody struck would count like any other; so they are asked about.
"""

from __future__ import annotations

from evenhand.layouts.evidence.column import ColumnSeen
from evenhand.layouts.values.words import YES_NO, plain, word_set

__all__ = ["says_what_lapsed"]

# Words for rows that were struck, in eight languages, as headers and cells have them. Common practice, no source.
LAPSED = word_set(
    # en
    "annulled,canceled,cancelled,cancellation,cancelled at,"
    "cancelled on,date deleted,deactivated,deactivated on,deleted,"
    "deleted at,deleted by,deleted on,deletion,deletion date,disabled,"
    "erased,erased on,inactive,is deleted,is void,removal,"
    "removed,removed at,removed from reader,removed on,revoked,revoked on,"
    "struck,void,voided,voided at,voided by,voided on,"
    # es
    "anulada,anulado,borrada,borrado,borrado el,"
    "cancelada,cancelado,desactivado,eliminada,eliminado,eliminado el,"
    "fecha de baja,fecha eliminacion,inactiva,inactivo,suprimido,"
    # de
    "annulliert,deaktiviert,entfernt,entfernt am,geloescht,"
    "geloescht am,gelöscht,gelöscht am,inaktiv,löschdatum,löschung,"
    "storniert,storniert am,storno,stornodatum,ungültig,"
    # fr
    "annulation,annule,annulee,date de suppression,desactive,"
    "efface,inactif,supprime,supprime le,supprimee,suppression,"
    # pt
    "apagado,data de exclusão,desativado,eliminado em,excluída,"
    "excluído,excluído em,inativo,removida,removido,removido em,"
    # it
    "annullata,annullato,cancellata,cancellato,cancellato il,"
    "disattivato,eliminata,eliminato il,inattivo,rimosso,stornato,"
    # nl
    "geannuleerd,gedeactiveerd,gestorneerd,gewist,inactief,verwijderd,verwijderd op,vervallen,"
    # pl
    "anulowana,anulowano,anulowany,anulowanie,data usunięcia,nieaktywna,nieaktywny,skasowano,skasowany,"
    "unieważniono,unieważniony,usunięcie,usunięta,usunięte,usunięto,usunięty"
)
FEW_KINDS = 8  # of cells, where one of them says it


def says_what_lapsed(column: ColumnSeen, table: str) -> bool:
    """Return whether a column may say that some of the rows no longer hold: by its header, or by words in its cells.

    Who no longer works somewhere is still on a roster, which says so by their last day.
    """
    cells = [cell for cell in column.profile.counts if plain(cell) and YES_NO.get(plain(cell)) is not False]
    if not cells or table == "people":
        return False
    is_worded = len(column.profile.counts) <= FEW_KINDS and any(plain(cell) in LAPSED for cell in cells)
    return is_worded or plain(column.header) in LAPSED
