"""The error that everything about quantities raises."""

from __future__ import annotations


class QuantityError(ValueError):
    """A text that is no quantity of the kind that is due, or units that do not convert.

    Attributes:
        what: what is wrong, without a full stop.
        advice: what to do about it, a sentence.

    """

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}. {advice}")
        self.what = what
        self.advice = advice
