"""GeoJSON read feature by feature, so that a file of any size takes no more memory than its largest feature."""

from __future__ import annotations

import codecs
import hashlib
import json
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from afield.plugins.geometry.readers import Feature, GeoFileError, LatLon
from afield.plugins.geometry.readers.coordinates import CoordinateError, wgs84_lat_lons
from afield.plugins.geometry.readers.geojson import NOT_JSON, named_crs, raw_feature
from afield.plugins.geometry.readers.shapes import features_by_kind, notes_of

_CHUNK = 1 << 20
_BLANKS = " \t\r\n"
_CUT_SHORT = "Copy or download it again."


class FeatureStream:
    """The features of a GeoJSON FeatureCollection in WGS 84.

    Attributes:
        sha256, notes, title: known once the features have all been read.
        done: how many of the file's bytes have been read.

    """

    def __init__(self, path: Path, shown: str) -> None:
        self.path, self.shown = path, shown
        self.sha256, self.title, self.done = "", Path(shown).stem, 0
        self.notes: list[str] = []
        self._seen: Counter[str] = Counter()

    def __iter__(self) -> Iterator[tuple[int, Feature]]:
        """Each feature with its number in the file. Raises GeoFileError."""
        with self.path.open("rb") as stream:
            text = _Text(stream, self.shown)
            for number, item in enumerate(self._items(text), start=1):
                self.done = stream.tell()
                yield from ((number, feature) for feature in self._features(item, number))
        self.sha256 = text.digest.hexdigest()
        self.notes = notes_of(self.shown, self._seen)

    def _features(self, item: Any, number: int) -> list[Feature]:
        raw = raw_feature(item, number, self.shown)
        try:
            return features_by_kind(raw, _lat_lons, self._seen)
        except CoordinateError as error:
            raise GeoFileError(f"{self.shown}: {raw.label(number)}: {error.what}", error.advice) from None

    def _items(self, text: _Text) -> Iterator[Any]:
        """The members of "features", wherever in the collection they stand."""
        members: dict[str, Any] = {}
        found = False
        text.expect("{")
        while (key := text.next_key()) is not None:
            if key == "features" and text.peek() == "[":
                found = True
                yield from text.items()
            else:
                members[key] = text.value()
        self._check(members, found)

    def _check(self, members: dict[str, Any], found: bool) -> None:
        if members.get("type") != "FeatureCollection" or not found:
            advice = 'A GeoJSON file says "type": "FeatureCollection" and has a list of "features".'
            raise GeoFileError(f"{self.shown}: this is JSON but not GeoJSON", advice)
        if named_crs(members, self.shown) is not None:
            what = f"{self.shown}: a coordinate reference system other than WGS 84 stands behind the features"
            raise GeoFileError(what, "Save the file in WGS 84 (EPSG:4326).")
        if isinstance(members.get("name"), str) and members["name"]:
            self.title = members["name"]


def _lat_lons(positions: Sequence[Any]) -> list[LatLon]:
    """As `wgs84_lat_lons`, three times as fast for pairs of floats in range, which nearly all are."""
    try:
        made = [
            (y, x) for x, y in positions
            if type(x) is float and type(y) is float and -90.0 <= y <= 90.0 and -180.0 <= x <= 180.0
        ]  # fmt: skip
    except (TypeError, ValueError):
        return wgs84_lat_lons(positions)
    return made if len(made) == len(positions) else wgs84_lat_lons(positions)


class _Text:
    """JSON text with a window that moves along it."""

    def __init__(self, stream: Any, shown: str) -> None:
        self.stream, self.shown = stream, shown
        self.digest = hashlib.sha256()
        self.window, self.at, self.ended = "", 0, False
        self.lines, self.column = 0, 0
        self._decode = codecs.getincrementaldecoder("utf-8-sig")().decode
        self._raw_decode = json.JSONDecoder().raw_decode

    def items(self) -> Iterator[Any]:
        """The values of the list that begins here."""
        self.expect("[")
        if self.peek() == "]":
            self.at += 1
            return
        while True:
            yield self.value()
            if self.expect(",", "]") == "]":
                return

    def next_key(self) -> str | None:
        """The next key of the object, the window behind its colon; None at its end, where nothing may follow."""
        if self.peek() in (",", "}"):
            mark, self.at = self.window[self.at], self.at + 1
            if mark == "}":
                self._expect_end()
                return None
        if self.peek() != '"':
            raise self._broken("expecting property name enclosed in double quotes", self.at)
        key = self.value()
        self.expect(":")
        return str(key)

    def expect(self, *marks: str) -> str:
        """Step over one of the marks. Raises GeoFileError where another character stands."""
        mark = self.peek()
        if mark not in marks:
            raise self._broken(f"expecting {' or '.join(repr(mark) for mark in marks)}", self.at)
        self.at += 1
        return mark

    def peek(self) -> str:
        """The next character that is no blank; nothing at the end."""
        while True:
            at = self.at
            while at < len(self.window) and self.window[at] in _BLANKS:
                at += 1
            if at < len(self.window) or self.ended:
                self.at = at if at < len(self.window) else self.at
                return self.window[at : at + 1]
            self._more(_CHUNK)

    def value(self) -> Any:
        """The value that begins here. Raises GeoFileError."""
        self.peek()
        size = _CHUNK
        while True:
            try:
                value, end = self._raw_decode(self.window, self.at)
                if end < len(self.window) or self.ended:
                    self.at = end
                    return value
            except json.JSONDecodeError as error:
                far = len(self.window) - error.pos > 64 and not error.msg.startswith("Unterminated")
                if far or self.ended:
                    raise self._broken(error.msg.lower(), error.pos) from None
            except RecursionError:
                raise GeoFileError(f"{self.shown}: the JSON is nested too deeply", NOT_JSON) from None
            except ValueError:
                raise GeoFileError(f"{self.shown}: a number has too many digits", NOT_JSON) from None
            self._more(size)
            size *= 2

    def _more(self, size: int) -> None:
        """Move the window on, or find that the text has ended."""
        data = self.stream.read(size)
        self.digest.update(data)
        self.ended = not data
        try:
            text = self._decode(data, not data)
        except UnicodeDecodeError:
            raise GeoFileError(f"{self.shown}: the text is not UTF-8", NOT_JSON) from None
        self.lines, self.column = self._place(self.at)
        self.window, self.at = self.window[self.at :] + text, 0

    def _place(self, at: int) -> tuple[int, int]:
        """Lines before a place in the window, and characters before it in its line."""
        lines = self.window.count("\n", 0, at)
        return self.lines + lines, at - self.window.rfind("\n", 0, at) - 1 if lines else self.column + at

    def _expect_end(self) -> None:
        if self.peek():
            raise self._broken("extra data", self.at)

    def _broken(self, message: str, at: int) -> GeoFileError:
        if not self.window[at:].strip() or message.startswith("unterminated"):
            line = self.lines + self.window.rstrip().count("\n") + 1
            return GeoFileError(f"{self.shown}: the file breaks off in line {line}: it is cut short", _CUT_SHORT)
        lines, column = self._place(at)
        return GeoFileError(f"{self.shown}:{lines + 1}:{column + 1}: this is not JSON ({message})", NOT_JSON)
