"""Findings of one cause, gathered into cases: each with its story, what is at stake and the way out."""

from evenhand.checks.cases.gathering import gather

__all__ = ["gather"]
