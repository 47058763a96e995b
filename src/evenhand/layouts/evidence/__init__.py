"""What speaks for a column of a file being a declared one: its cells, its header, what is known already."""
