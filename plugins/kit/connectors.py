"""Which connector fits which: the catalogue's, and those that a kit file brings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from difflib import get_close_matches
from typing import Any

from afield.core.api import did_you_mean, frozen, quoted_list
from afield.plugins.kit.catalogue import catalogue_connector, connector_names
from afield.plugins.kit.model import Port, plug_words

NEAREST = 5
OPPOSITE = {"male": "female", "female": "male"}


@frozen(slots=False)
class Connectors:
    """Connectors by name.

    Attributes:
        own: those that kit files bring; they displace the catalogue's of the same name.

    """

    own: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    @property
    def names(self) -> list[str]:
        """Every known name."""
        return list(dict.fromkeys([*self.own, *connector_names()]))

    def entry(self, name: str) -> Mapping[str, Any]:
        """What is known of a connector; KeyError if nothing is."""
        return self.own[name] if name in self.own else catalogue_connector(name)

    def found(self, name: str) -> tuple[str, str | None]:
        """The connector's proper name, and the gender that the name implies.

        Raises:
            KeyError: nothing is known of it, or of the one that it is another name of.

        """
        entry = self.entry(name)
        proper = str(entry.get("is", name))
        self.entry(proper)
        return proper, entry.get("gender")

    def gendered(self, name: str) -> bool:
        """Whether a male one fits a female one; else two of a kind fit."""
        return bool(self.entry(name).get("gendered", True))

    def advice(self, name: str) -> str:
        """What to write instead of an unknown name."""
        guess = did_you_mean(name, self.names)
        meant = f'Did you mean "{guess}"?' if guess else self._nearest(name)
        return f"{meant} A connector that is not listed can be described under `connectors:` of the kit file."

    def _nearest(self, name: str) -> str:
        """The known names that are spelt most like an unknown one; a list of all helps nobody."""
        folded = {known.lower(): known for known in reversed(self.names)}
        near = [folded[one] for one in get_close_matches(name.lower(), list(folded), n=NEAREST, cutoff=0.0)]
        return f"Of the {len(self.names)} known ones, {quoted_list(near)} are spelt most like it."

    def fit(self, one: Port, other: Port) -> bool:
        """Whether the two plugs go into each other."""
        if one.connector == other.connector:
            return one.gender is None or OPPOSITE[one.gender] == other.gender
        return self._across(one, other) or self._across(other, one)

    def _across(self, one: Port, other: Port) -> bool:
        for name in self.entry(one.connector).get("mates", ()):
            proper, gender = self.found(name)
            if proper == other.connector and gender in (None, other.gender):
                return True
        return False

    def counterpart(self, port: Port) -> str:
        """What goes into the port, in words."""
        return plug_words(port.connector, OPPOSITE[port.gender] if port.gender else None)
