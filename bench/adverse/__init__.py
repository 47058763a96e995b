"""Workplaces of every awkward kind, with the truth beside them, to hold against it what the tool says with a number.

Written without regard to how scores and strays are estimated: a family is one way in which a workplace may differ
from what an estimator would like. Everybody and everything in it is invented.
"""
