"""Computations of time and of the sun: plain functions with their sources."""
