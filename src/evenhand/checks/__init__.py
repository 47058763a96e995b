"""Checks: what is wrong, with its evidence, what is at stake, and the next step."""

from evenhand.checks.cases import gather
from evenhand.checks.facts import Check, Facts
from evenhand.checks.find import WATCHED, all_checks, find_all

__all__ = ["WATCHED", "Check", "Facts", "all_checks", "find_all", "gather"]
