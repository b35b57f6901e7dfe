"""Chances of contacts, times that they need, rates from earlier counts."""
