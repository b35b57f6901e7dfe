"""Levels, powers, standing waves, feed lines and wire lengths."""
