"""Soil-amendment budgets: amounts, orders, money, hours and waiting for growers."""

__version__ = "0.1.0"
