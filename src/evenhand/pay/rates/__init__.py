"""Rates of pay: which there are, what is wrong with them, and which holds."""

from evenhand.pay.rates.held import hourly_rates, knows_money, salaried_people

__all__ = ["hourly_rates", "knows_money", "salaried_people"]
