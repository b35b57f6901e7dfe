"""Plugins: the hooks they implement and the registry of what they declare."""
