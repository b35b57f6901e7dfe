"""Well-known binary (OGC 06-103r4, section 8), two-dimensional, as simple shapes; collapsed rings come through."""

from struct import unpack_from

from afield.plugins.geometry.readers.shapes import Shape

POINT, LINE, POLYGON = 1, 2, 3
TRIANGLE = 17
GROUPS = (4, 5, 6, 7, 15, 16)  # the multi geometries, the collection, the polyhedral surface and the TIN
COLLECTION = 7

XYs = list[tuple[float, float]]


def positions_at(wkb: bytes, at: int, count: int, order: str) -> tuple[XYs, int]:
    """`count` positions from byte `at`, and the byte behind them."""
    numbers = unpack_from(f"{order}{2 * count}d", wkb, at)
    return list(zip(numbers[::2], numbers[1::2], strict=True)), at + 16 * count


def string_at(wkb: bytes, at: int, order: str) -> tuple[XYs, int]:
    """A counted list of positions from byte `at`, and the byte behind it."""
    (count,) = unpack_from(f"{order}I", wkb, at)
    return positions_at(wkb, at + 4, count, order)


def simple_at(wkb: bytes, at: int, kind: int, order: str) -> tuple[list[Shape], int]:
    """The point, line or polygon whose body begins at byte `at` (none where it is empty), and the byte behind it."""
    if kind == POINT:
        point, end = positions_at(wkb, at, 1, order)
        is_empty = point[0][0] != point[0][0] and point[0][1] != point[0][1]  # POINT EMPTY is written as two NaN
        return ([] if is_empty else [Shape("point", [point])]), end
    if kind == LINE:
        line, end = string_at(wkb, at, order)
        return ([Shape("line", [line])] if line else []), end
    (count,) = unpack_from(f"{order}I", wkb, at)
    rings, end = [], at + 4
    for _ in range(count):
        ring, end = string_at(wkb, end, order)
        rings.append(ring)
    return ([Shape("area", list(rings))] if rings else []), end


def shapes_at(wkb: bytes, at: int) -> tuple[list[Shape], int]:
    """The simple shapes of the geometry at byte `at`, and the byte behind it. Raises ValueError for curved types."""
    order = "<" if wkb[at] else ">"
    (kind,) = unpack_from(f"{order}I", wkb, at + 1)
    if kind in (POINT, LINE, POLYGON, TRIANGLE):
        return simple_at(wkb, at + 5, kind, order)
    if kind not in GROUPS:
        raise ValueError(f"geometry type {kind}")
    (count,) = unpack_from(f"{order}I", wkb, at + 5)
    shapes, end = [], at + 9
    for _ in range(count):
        members, end = shapes_at(wkb, end)
        shapes.extend(members)
    return shapes, end


def is_collection(wkb: bytes) -> bool:
    """Whether the geometry is a GeometryCollection."""
    return unpack_from("<I" if wkb[0] else ">I", wkb, 1) == (COLLECTION,)
