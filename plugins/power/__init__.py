"""Wires, fuses, batteries, USB supplies and converters: what a station's power comes to."""
