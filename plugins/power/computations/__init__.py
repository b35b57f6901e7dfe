"""Wires, fuses, batteries, USB supplies and converters: plain functions, each with its formula and source."""
