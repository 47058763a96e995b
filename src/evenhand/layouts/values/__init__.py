"""From the text of a cell to the value of a declared column."""
