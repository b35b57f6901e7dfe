"""Tools for those who write rule packs and plugins."""
