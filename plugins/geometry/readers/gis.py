"""Shapefile, GeoPackage, SpatiaLite and FlatGeobuf through GDAL (pyogrio), taken to WGS 84 by PROJ.

Only these: GDAL would also open formats that name other files or network addresses, which a stranger's file must not.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from afield.core.api import marked
from afield.plugins.geometry.notes import Note
from afield.plugins.geometry.readers.layer import GeoFileError, Layer
from afield.plugins.geometry.readers.naming import id_in, name_in
from afield.plugins.geometry.readers.shapes import RawFeature, made_features
from afield.plugins.geometry.readers.wkb import is_collection, shapes_at
from afield.plugins.geometry.readers.words import near_name, quoted_list

SHAPEFILE, SQLITE, FLATGEOBUF = b"\x00\x00\x27\x0a", b"SQLite format 3\x00", b"fgb"
MAGICS = (SHAPEFILE, SQLITE, FLATGEOBUF)
DRIVERS = ("ESRI Shapefile", "GPKG", "SQLite", "FlatGeobuf")
SAVE_AGAIN = "Save it again from the program that made it, best as GeoJSON or GeoPackage."


def is_gis(data: bytes) -> bool:
    """Whether the bytes begin as one of the formats of this module do."""
    return data.startswith(MAGICS)


def has_companion(path: Path, suffix: str) -> bool:
    """Whether the file of the same name with this suffix, in lower or upper case, is beside it."""
    return any(path.with_suffix(each).is_file() for each in (suffix, suffix.upper()))


def refuse_partial_shapefile(path: Path, data: bytes, shown: str) -> None:
    """Raise GeoFileError for a shapefile that is cut short (GDAL would drop the rest silently) or has no index."""
    if not data.startswith(SHAPEFILE):
        return
    stated = 2 * int.from_bytes(
        data[24:28], "big"
    )  # ESRI Shapefile Technical Description (1998), table 1: 16-bit words
    if stated > len(data):
        what = f"{shown}: the file is cut short: it has {len(data)} bytes of {stated}"
        raise GeoFileError(what, "Copy or download it again.")
    if not has_companion(path, ".shx"):
        what = f"{shown}: the index of this shapefile ({path.stem}.shx) is not beside it"
        raise GeoFileError(what, "Copy all files of the shapefile: .shp, .shx, .dbf and .prj.")


def table_notes(path: Path, data: bytes, shown: str) -> list[str]:
    """The note on a shapefile whose table, with the names in it, is absent."""
    if not data.startswith(SHAPEFILE) or has_companion(path, ".dbf"):
        return []
    absent = marked("{file}: the table of this shapefile ({table}) is not beside it: its features have no names.")
    return [Note(absent, file=shown, table=f"{path.stem}.dbf")]


@contextmanager
def gdal_quiet(shown: str) -> Iterator[None]:
    """GDAL's remarks on the file's writer are dropped; its refusals become GeoFileError."""
    import warnings

    from pyogrio.errors import CRSError, DataLayerError, DataSourceError, FieldError, GeometryError

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            yield
        except (
            CRSError,
            UnboundLocalError,
        ):  # the latter is how pyogrio 0.13 trips over one that GDAL cannot understand
            what = f"{shown}: its coordinate reference system (CRS) cannot be understood"
            raise GeoFileError(what, f"{SAVE_AGAIN} Of a shapefile, copy the .prj again.") from None
        except (DataSourceError, DataLayerError, FieldError, GeometryError, ValueError, OverflowError):
            raise GeoFileError(f"{shown}: the file is damaged, or holds no map", SAVE_AGAIN) from None


def layer_types(path: Path, shown: str) -> dict[str, str]:
    """The layers of the file that have a geometry, with its type. Raises GeoFileError where GDAL cannot open it."""
    import pyogrio

    with gdal_quiet(shown):
        rows = pyogrio.list_layers(path).tolist()
    types = {str(name): str(geometry) for name, geometry in rows if geometry is not None}
    if not types:
        raise GeoFileError(f"{shown}: there is no layer with a geometry in it", SAVE_AGAIN)
    return types


def curve_notes(geometry_type: str, shown: str) -> list[str]:
    """The note on curved edges, which GDAL cuts into chords of 4 degrees of arc: up to 0.06 % of the radius inside."""
    is_curved = any(word in geometry_type for word in ("Curve", "Circular", "MultiSurface"))
    cut = marked("{file}: curved edges were cut into straight ones, off by up to {share} % of their radius.")
    return [Note(cut, file=shown, share=0.06)] * is_curved


def chosen_layer(names: list[str], layer: str | None, shown: str) -> str:
    """The layer named, or the only one. Raises GeoFileError that lists the layers."""
    if layer is None and len(names) == 1:
        return names[0]
    if layer is None:
        raise GeoFileError(f"{shown}: there are {len(names)} layers in it", f"Name one as layer: {quoted_list(names)}.")
    if layer not in names:
        advice = f"{near_name(layer, names)}Its layers are {quoted_list(names)}."
        raise GeoFileError(f'{shown}: there is no layer "{layer}" in it', advice)
    return layer


def layer_content(path: Path, layer: str, shown: str) -> tuple[dict[str, Any], Any, list[Any]]:
    """What GDAL reads of the layer: its description, WKB geometries, and the columns. Raises GeoFileError."""
    from pyogrio import raw, read_info

    with gdal_quiet(shown):
        info = read_info(path, layer=layer, force_feature_count=True)
        meta, _, geometries, columns = raw.read(path, layer=layer, force_2d=True, datetime_as_string=True)
    if geometries is not None and len(geometries) != info["features"]:
        raise GeoFileError(f"{shown}: the file is damaged, or holds no map", SAVE_AGAIN)
    if info["driver"] not in DRIVERS:
        raise GeoFileError(f"{shown}: this is not a kind of GIS file that is read", SAVE_AGAIN)
    return meta, geometries, columns


def plain(value: Any) -> Any:
    """The value of a column as plain Python; None for NaN and for bytes."""
    value = value.item() if hasattr(value, "item") else value
    return None if value != value or isinstance(value, bytes) else value


def raw_feature(wkb: bytes | None, properties: dict[str, Any], shown: str) -> RawFeature:
    """One feature in the file's own coordinates. Raises GeoFileError for geometries that are not straight-edged."""
    try:
        shapes = shapes_at(wkb, 0)[0] if wkb else []
    except ValueError as error:
        raise GeoFileError(f"{shown}: {error} is not read", "Save it again with straight edges.") from None
    return RawFeature(
        id_in(properties), name_in(properties), shapes, properties, bool(wkb) and is_collection(wkb or b"")
    )


def raw_features(meta: dict[str, Any], geometries: Any, columns: list[Any], shown: str) -> list[RawFeature]:
    """All features of the layer. Raises GeoFileError where the layer has no geometry."""
    if geometries is None:
        raise GeoFileError(f"{shown}: there is no geometry in it", SAVE_AGAIN)
    keys = [str(key) for key in meta["fields"]]
    rows = [dict(zip(keys, map(plain, row), strict=True)) for row in zip(*columns, strict=True)]
    rows = rows or [{} for _ in geometries]
    return [raw_feature(wkb, row, shown) for wkb, row in zip(geometries, rows, strict=True)]


def bounds_of(raws: list[RawFeature]) -> tuple[float, float, float, float] | None:
    """The box of all positions, in the file's unit; None where there are none."""
    points = [point for raw in raws for shape in raw.shapes for string in shape.strings for point in string]
    if not points:
        return None
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys), max(xs), max(ys))


def refuse_no_crs(crs: str | None, path: Path, shown: str) -> str:
    """The layer's coordinate reference system. Raises GeoFileError where the file states none."""
    if crs:
        return crs
    shapefile = f"Copy {path.stem}.prj beside it, or save" if path.suffix.lower() == ".shp" else "Save"
    advice = f"{shapefile} the file again with its coordinate reference system."
    raise GeoFileError(f"{shown}: the file does not say in which coordinate reference system (CRS) it is", advice)


def read_gis(path: Path, data: bytes, shown: str, sha256: str, layer: str | None) -> Layer:
    """The layer of the file, in WGS 84. Raises GeoFileError."""
    from afield.plugins.geometry.readers.datums import step_to_wgs84

    refuse_partial_shapefile(path, data, shown)
    types = layer_types(path, shown)
    name = chosen_layer(list(types), layer, shown)
    meta, geometries, columns = layer_content(path, name, shown)
    raws = raw_features(meta, geometries, columns, shown)
    step = step_to_wgs84(refuse_no_crs(meta["crs"], path, shown), bounds_of(raws), shown)
    features, notes = made_features(raws, step.to_lat_lon, shown)
    notes = [*notes, *table_notes(path, data, shown), *curve_notes(types[name], shown), *step.notes]
    return Layer(name, shown, sha256, step.edge_model, step.crs, step.accuracy_m, features, notes)
