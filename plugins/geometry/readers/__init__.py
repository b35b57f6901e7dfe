"""Readers of GIS files: GeoJSON, GPX, KML, shapefile, GeoPackage, FlatGeobuf; all positions come out in WGS 84."""

from afield.plugins.geometry.readers.choosing import choose_feature
from afield.plugins.geometry.readers.layer import EdgeModel, Feature, GeoFileError, Kind, LatLon, Layer, Polygon, Ring
from afield.plugins.geometry.readers.reading import read_layer

__all__ = [
    "EdgeModel",
    "Feature",
    "GeoFileError",
    "Kind",
    "LatLon",
    "Layer",
    "Polygon",
    "Ring",
    "choose_feature",
    "read_layer",
]
