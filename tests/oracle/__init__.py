"""Hours, premiums and pay once more, written from the laws' texts: minute by minute, with datetime and fractions.

Slow and plain on purpose, it shares no line with the rooms it checks and knows whole minutes only. `python -m
tests.oracle` holds it against them over as many random person-weeks as asked for.
"""
