"""What of the kit is compared between variants."""

from __future__ import annotations

from afield.core.api import Comparison

COMPARISONS = [
    Comparison("kit.price", "Price of the kit", 100),
    Comparison("kit.mass", "Mass of the kit", 110),
    Comparison("kit.items", "Number of items", 120),
    Comparison("kit.cables", "Leads, feed lines and adapters", 130),
    Comparison("kit.essential_without_spare", "Essential items without a spare", 140),
    Comparison("kit.hand_set", "Steps set by hand", 150),
]
"""Orders between them are left for what else is counted of a kit."""
