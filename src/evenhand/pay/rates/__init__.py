"""Rates of pay: which there are, what is wrong with them, and which holds."""

from evenhand.pay.rates.held import knows_money, lowest_hourly_rates, salaried_people

__all__ = ["knows_money", "lowest_hourly_rates", "salaried_people"]
