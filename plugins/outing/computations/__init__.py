"""Distances from power lines, lightning, wind, cold and heat: plain functions, each with its formula and source."""
