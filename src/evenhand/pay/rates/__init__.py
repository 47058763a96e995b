"""Rates of pay: which there are, what is wrong with them, and which holds."""

from evenhand.pay.rates.held import keeps_rates, lowest_hourly_rates

__all__ = ["keeps_rates", "lowest_hourly_rates"]
