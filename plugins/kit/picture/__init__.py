"""The drawing of how the kit is joined."""
