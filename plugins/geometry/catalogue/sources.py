"""The files that go into a catalogue, as layers of numbered features."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from afield.plugins.geometry.catalogue.csv_points import SUFFIXES, read_csv_points
from afield.plugins.geometry.catalogue.geojson_stream import FeatureStream
from afield.plugins.geometry.catalogue.opening import is_catalogue
from afield.plugins.geometry.readers import Feature, GeoFileError, Layer, read_layer
from afield.plugins.geometry.readers.contents import refuse_missing
from afield.plugins.geometry.readers.gis import is_gis, layer_types
from afield.plugins.geometry.readers.reading import first_mark

_ENDS = 1 << 16


@dataclass
class Source:
    """One layer of a file; `name`, `sha256` and `notes` of a stream are known once its features have been read."""

    layer: Layer | FeatureStream
    shown: str

    def features(self) -> Iterable[tuple[int, Feature]]:
        """The features with their numbers in the layer."""
        return enumerate(self.layer.features, start=1) if isinstance(self.layer, Layer) else self.layer

    def share_of(self, number: int) -> float:
        """How much of the layer has been read once its feature of that number has, 0 to 1."""
        if isinstance(self.layer, Layer):
            return number / len(self.layer.features)
        return self.layer.done / max(self.layer.path.stat().st_size, 1)

    @property
    def name(self) -> str:
        """What the file calls the layer."""
        return self.layer.name if isinstance(self.layer, Layer) else self.layer.title

    @property
    def edge_model(self) -> str:
        """What joins two vertices."""
        return self.layer.edge_model if isinstance(self.layer, Layer) else "lonlat"

    @property
    def crs(self) -> str:
        """The coordinate reference system that the file was in."""
        return self.layer.crs if isinstance(self.layer, Layer) else "WGS 84 (OGC:CRS84)"

    @property
    def datum_accuracy_m(self) -> float | None:
        """Stated accuracy of the step from the file's datum to WGS 84; None where none is stated."""
        return self.layer.datum_accuracy_m if isinstance(self.layer, Layer) else 0.0


def sources_of(path: Path, shown: str) -> Iterator[Source]:
    """Every layer of a file, one after the other.

    GeoJSON in WGS 84 is read feature by feature, all else whole.

    Raises:
        GeoFileError: the file cannot be read, or is not of a kind that is known.

    """
    head, tail = _ends(path, shown)
    if is_catalogue(head[:100]):
        raise GeoFileError(f"{shown}: this is a catalogue already", "Name the files that it was built from.")
    if path.suffix.lower() in SUFFIXES:
        yield Source(read_csv_points(path, shown), shown)
    elif first_mark(head) == b"{" and b'"FeatureCollection"' in head + tail and b'"crs"' not in head + tail:
        yield Source(FeatureStream(path, shown), shown)
    elif is_gis(head):
        for name in layer_types(path, shown):
            yield Source(read_layer(path, shown, name), shown)
    else:
        yield Source(read_layer(path, shown), shown)


def _ends(path: Path, shown: str) -> tuple[bytes, bytes]:
    """The beginning and the end of a file, where GeoJSON says what it is. Raises GeoFileError."""
    if path.is_dir() or (path.is_file() and path.stat().st_size == 0):
        read_layer(path, shown)  # raises, with its own words
    if not path.exists():
        refuse_missing(path, shown)
    try:
        with path.open("rb") as stream:
            head = stream.read(_ENDS)
            stream.seek(max(path.stat().st_size - _ENDS, 0))
            return head, stream.read()
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise GeoFileError(f"{shown}: the file cannot be read ({reason})", "Check its permissions.") from None
