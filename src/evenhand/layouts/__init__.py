"""Anybody's file in, typed rows and refused rows out.

`propose` looks at a file and suggests a `Layout`; a person confirms it; `read` turns files of that kind into rows.
"""

from evenhand.layouts.layout import Layout
from evenhand.layouts.propose import matches, propose
from evenhand.layouts.read import Rows, read

__all__ = ["Layout", "Rows", "matches", "propose", "read"]
