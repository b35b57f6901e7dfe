"""Settings of all tests."""

from __future__ import annotations

from hypothesis import settings

# How long one example takes says more of the machine than of what is tested.
settings.register_profile("any machine", deadline=None)
settings.load_profile("any machine")
