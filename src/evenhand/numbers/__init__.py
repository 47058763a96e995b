"""Numbers people key: how they go wrong, which are safe, who gets which, and what moving to better ones costs."""

from evenhand.numbers.allocate import Allocated, allocate, known_by_heart
from evenhand.numbers.chance import VERHOEFF_SHARES, Chance, chance_of_clash, chance_of_landing, expected_at_random
from evenhand.numbers.confusable import CONFUSABLE, confusable_pairs
from evenhand.numbers.design import Option, design
from evenhand.numbers.migrate import Migration, NumberChange, migrate, part_confusable
from evenhand.numbers.schemes import CHECKS, Scheme, members, obvious

__all__ = [
    "CHECKS",
    "CONFUSABLE",
    "VERHOEFF_SHARES",
    "Allocated",
    "Chance",
    "Migration",
    "NumberChange",
    "Option",
    "Scheme",
    "allocate",
    "chance_of_clash",
    "chance_of_landing",
    "confusable_pairs",
    "design",
    "expected_at_random",
    "known_by_heart",
    "members",
    "migrate",
    "obvious",
    "part_confusable",
]
