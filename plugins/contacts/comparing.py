"""What of contacts is compared between variants."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from afield.core.api import Comparison


def expected_words(record: Mapping[str, Any]) -> str:
    """The number with its interval, and what it rests on: "100 (15 to 350)"."""
    figures = "{value:.0f} ({low:.0f} to {high:.0f})".format(**record)
    return f"{figures}\n{record['detail']['basis']}"


COMPARISONS = [Comparison("contacts.expected", "Contacts expected", 410, words=expected_words)]
