"""The engine: judges a plan by rule packs. It knows no radio."""

__version__ = "0.1.0"
