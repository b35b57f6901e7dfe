"""Placement: the judging rules turned round, to say where they would pass."""

from afield.core.placing.regions import EVERYWHERE, NOWHERE, Asked, Region, Sought, both, either
from afield.core.placing.solving import Bounded, solved

__all__ = ["EVERYWHERE", "NOWHERE", "Asked", "Bounded", "Region", "Sought", "both", "either", "solved"]
