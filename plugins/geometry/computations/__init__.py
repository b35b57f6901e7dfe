"""Positions, distances, areas and bearings: plain functions, each with its formula and source."""
