"""Anybody's file in, typed rows and rejected rows out.

`propose` looks at a `SourceFile` and suggests a `Layout`, with what it has to ask; a person confirms it; `read` turns
files of that kind into rows. `sketch` keeps what a file looks like.
"""

from evenhand.layouts.beside import said_beside
from evenhand.layouts.layout import Layout
from evenhand.layouts.proposal import (
    NO_COLUMN,
    OWN_CLOCK,
    Answers,
    Choice,
    ColumnUse,
    KnownCells,
    Proposal,
    Question,
    answered,
)
from evenhand.layouts.propose import propose
from evenhand.layouts.read import Rows, read, with_texts
from evenhand.layouts.sketch import Sketch, sketch
from evenhand.layouts.source_file import SourceFile
from evenhand.layouts.without import WHOLE_LINE, Redaction, Shortened, lines_with, without

__all__ = [
    "NO_COLUMN",
    "OWN_CLOCK",
    "WHOLE_LINE",
    "Answers",
    "Choice",
    "ColumnUse",
    "KnownCells",
    "Layout",
    "Proposal",
    "Question",
    "Redaction",
    "Rows",
    "Shortened",
    "Sketch",
    "SourceFile",
    "answered",
    "lines_with",
    "propose",
    "read",
    "said_beside",
    "sketch",
    "with_texts",
    "without",
]
