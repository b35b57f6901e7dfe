"""A catalogue of references in one SQLite file: built from GIS files, asked by position, read by name."""
