"""What can be wrong with the readers themselves."""
