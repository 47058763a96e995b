"""What can be wrong with hours and whose they are."""
