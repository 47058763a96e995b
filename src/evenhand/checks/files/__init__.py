"""What can be wrong with the files that come in."""
