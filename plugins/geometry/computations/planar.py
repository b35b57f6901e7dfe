"""Distances between points and segments of the plane, for many at once."""

from __future__ import annotations

import numpy as np

from afield.plugins.geometry.computations.plane import Floats


def nearest_on_segments(points: Floats, start: Floats, end: Floats) -> Floats:
    """The nearest point of every segment to every point.

    Args:
        points: (k, 2), metres.
        start, end: (n, 2), metres; a segment without length is a point.

    Returns:
        (k, n, 2), metres.

    """
    along = end - start
    square = np.einsum("ij,ij->i", along, along)
    ahead = np.einsum("kij,ij->ki", points[:, None, :] - start, along)
    share = np.divide(ahead, square, out=np.zeros_like(ahead), where=square > 0)
    return np.asarray(start + np.clip(share, 0.0, 1.0)[:, :, None] * along)


def segment_distances_m(points: Floats, start: Floats, end: Floats) -> Floats:
    """Distance of every point (k, 2) from every segment (n, 2), as (k, n) metres."""
    return lengths(nearest_on_segments(points, start, end) - points[:, None, :])


def paired_distances_m(points: Floats, start: Floats, end: Floats) -> Floats:
    """Distance of the i-th point from the i-th segment, all (n, 2), as (n,) metres."""
    along = end - start
    square = np.einsum("ij,ij->i", along, along)
    ahead = np.einsum("ij,ij->i", points - start, along)
    share = np.clip(np.divide(ahead, square, out=np.zeros_like(ahead), where=square > 0), 0.0, 1.0)
    return lengths(start + share[:, None] * along - points)


def lengths(vectors: Floats) -> Floats:
    """Length of vectors, over the last axis."""
    return np.asarray(np.hypot(vectors[..., 0], vectors[..., 1]))
