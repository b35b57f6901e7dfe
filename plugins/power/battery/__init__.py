"""Batteries: what is in them, charging, and by air."""
