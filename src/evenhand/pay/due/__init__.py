"""What a workweek owes beyond straight pay: overtime, premium hours, reopened weeks, and the minimum wage."""
