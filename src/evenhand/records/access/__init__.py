"""Everything held on one person, to be given to them: their rows, and nothing that tells of anybody else."""

from evenhand.records.access.blanks import BLANK, Blanks
from evenhand.records.access.parts import AccessPart
from evenhand.records.access.rights import RIGHTS, Right

__all__ = ["BLANK", "RIGHTS", "AccessPart", "Blanks", "Right"]
