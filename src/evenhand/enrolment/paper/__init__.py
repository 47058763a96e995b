"""The round on paper: sheets for the reader, slips for each person, cards for the wall and the supervisor."""

from evenhand.enrolment.paper.printing import (
    Heading,
    Stationery,
    print_cards,
    print_round,
    print_slips,
    print_steps,
)

__all__ = ["Heading", "Stationery", "print_cards", "print_round", "print_slips", "print_steps"]
