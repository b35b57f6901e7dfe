"""Terrain grids: read from a file, and made into the area that belongs to a summit."""
