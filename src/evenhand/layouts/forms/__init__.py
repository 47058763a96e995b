"""The forms a file may have: each is cut into a grid of cells, with the lines that could not be cut."""
