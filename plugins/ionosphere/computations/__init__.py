"""Usable frequencies, hops, absorption, noise, solar indices, ground: plain functions, each with formula and source."""
