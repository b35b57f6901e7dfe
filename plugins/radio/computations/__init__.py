"""Decibels, S-units, standing waves, lines and lengths: plain functions, each with its formula and source."""
