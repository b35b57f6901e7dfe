"""Looks through a rule pack for what loads, but does not hold: untried limits, gaps between dates, old sources."""
