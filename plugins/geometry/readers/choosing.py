"""Picks the features of a layer that are meant: by id, by name, or the only one."""

from collections.abc import Callable

from afield.plugins.geometry.readers.layer import MANY, ONE, Feature, GeoFileError, Kind, Layer
from afield.plugins.geometry.readers.naming import text_of
from afield.plugins.geometry.readers.words import counted, near_name, quoted_list

SAVE_AS: dict[Kind, str] = {
    "area": "Save the outline as a polygon; a closed line is not taken for an area.",
    "line": "Save it as a line (in GPX: a track or a route).",
    "point": "Save it as a point (in GPX: a waypoint).",
}


def of_kind(features: list[Feature], due: Kind, whose: str) -> list[Feature]:
    """The features of the kind that is due. Raises GeoFileError where there are only others."""
    fitting = [feature for feature in features if feature.kind == due]
    if fitting:
        return fitting
    kinds = list(dict.fromkeys(MANY[feature.kind] for feature in features))
    raise GeoFileError(f"{whose}: {' and '.join(kinds)} are in it, where {ONE[due]} is due", SAVE_AS[due])


def id_of(id_field: str | None) -> Callable[[Feature], str | None]:
    """The function that gives a feature's id: its own, or the value of a property."""
    if id_field is None:
        return lambda feature: feature.id
    return lambda feature: text_of(feature.properties.get(id_field))


def refuse_unknown_field(layer: Layer, id_field: str) -> None:
    """Raise GeoFileError where no feature has the property."""
    fields = list(dict.fromkeys(key for feature in layer.features for key in feature.properties))
    if id_field not in fields:
        known = f"Its fields are {quoted_list(fields)}." if fields else "Its features have no fields."
        raise GeoFileError(
            f'{layer.file}: there is no field "{id_field}" in it', f"{near_name(id_field, fields)}{known}"
        )


def matching(layer: Layer, wanted: str, what: str, value_of: Callable[[Feature], str | None]) -> list[Feature]:
    """The features whose value is the wanted text. Raises GeoFileError that offers the nearest and lists them."""
    found = [feature for feature in layer.features if value_of(feature) == wanted]
    if found:
        return found
    values = [value for feature in layer.features if (value := value_of(feature))]
    listed = f"It has {quoted_list(values)}." if values else f"Its features have no {what}s."
    raise GeoFileError(
        f'{layer.file}: there is no feature with the {what} "{wanted}" in it', near_name(wanted, values) + listed
    )


def only_feature(layer: Layer, due: Kind) -> list[Feature]:
    """The only feature of the kind that is due, or all if they share one name. Raises GeoFileError that lists them."""
    fitting = of_kind(layer.features, due, layer.file)
    names = [feature.name for feature in fitting if feature.name]
    if len(fitting) == 1 or (len(names) == len(fitting) and len(set(names)) == 1):
        return fitting
    unnamed = len(fitting) - len(names)
    what = f"{layer.file}: there are {counted(len(fitting), due, MANY[due])} in it, and none is named"
    without = f" {counted(unnamed, 'has', 'have')} no name: choose by id, or give names in the file." if unnamed else ""
    raise GeoFileError(what, f"Name one of {quoted_list(names)}.{without}" if names else without.strip())


def choose_feature(layer: Layer, name: str | None, id: str | None, id_field: str | None, due: Kind) -> list[Feature]:
    """The features that are meant, all of the kind that is due: one thing, in one or more parts.

    By `id` (the feature's own, or the property `id_field`) exactly; else all features of that `name`; else the only one
    of its kind. Of a mixed collection only the shapes of the kind due are taken. Raises GeoFileError.
    """
    if id is not None:
        if id_field is not None:
            refuse_unknown_field(layer, id_field)
        return of_kind(matching(layer, id, id_field or "id", id_of(id_field)), due, f'{layer.file}: "{id}"')
    if name is not None:
        found = matching(layer, name, "name", lambda feature: feature.name)
        return of_kind(found, due, f'{layer.file}: "{name}"')
    return only_feature(layer, due)
