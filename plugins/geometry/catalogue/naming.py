"""Which reference of which program a feature is."""

from __future__ import annotations

from typing import NamedTuple

from afield.core.api import frozen
from afield.plugins.geometry.readers import Feature, GeoFileError
from afield.plugins.geometry.readers.naming import text_of
from afield.plugins.geometry.readers.words import near_name, quoted_list


class Named(NamedTuple):
    """A reference's program ("" where none is known) and its name."""

    program: str
    name: str


@frozen(slots=False)
class Naming:
    """How references are named.

    Attributes:
        name_field: property that holds the name; the one called name, title or label if left out.
        program: the award program of all of them.
        program_field: property that holds it instead.
        skip_unnamed: leave out features without a name.

    """

    name_field: str | None = None
    program: str | None = None
    program_field: str | None = None
    skip_unnamed: bool = False

    def of(self, feature: Feature, number: int, shown: str) -> Named | None:
        """The reference that a feature is; None where it has no name and is to be left out. Raises GeoFileError."""
        name = feature.name if self.name_field is None else text_of(feature.properties.get(self.name_field))
        if name is None:
            if self.skip_unnamed:
                return None
            raise self._unnamed(feature, number, shown)
        return Named(self._program_of(feature, number, shown), name)

    def _program_of(self, feature: Feature, number: int, shown: str) -> str:
        if self.program_field is None:
            return self.program or text_of(feature.properties.get("program")) or ""
        found = text_of(feature.properties.get(self.program_field))
        if found is None:
            what = f'{shown}: feature {number} has no "{self.program_field}" that names its program'
            raise GeoFileError(what, _fields_of(feature, self.program_field) + "Or write --program NAME for all.")
        return found

    def _unnamed(self, feature: Feature, number: int, shown: str) -> GeoFileError:
        what = f"{shown}: feature {number} has no name"
        if self.name_field is not None:
            what = f'{shown}: feature {number} has no "{self.name_field}" that names it'
        choice = "Name the field that holds it with --name-field" if self.name_field is None else "Name another field"
        return GeoFileError(what, f"{_fields_of(feature, self.name_field)}{choice}, or add --skip-unnamed.")


def _fields_of(feature: Feature, wanted: str | None) -> str:
    fields = list(feature.properties)
    guess = near_name(wanted, fields) if wanted else ""
    return f"{guess}Its fields are {quoted_list(fields)}. " if fields else "It has no fields. "
