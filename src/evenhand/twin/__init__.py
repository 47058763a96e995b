"""A seeded invented workplace, its ordinary files, and the truth beside it."""

from evenhand.twin.files import files
from evenhand.twin.workplace import Workplace, workplace

__all__ = ["Workplace", "files", "workplace"]
