"""Words of a report that are no data, and that code compares."""

from __future__ import annotations

from afield.core.language import marked

TRUTH = (marked("yes"), marked("no"))
