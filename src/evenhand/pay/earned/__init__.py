"""What a workweek earned, sum by sum: at its rates, beside its hours, and by differentials."""
