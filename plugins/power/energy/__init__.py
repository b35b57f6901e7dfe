"""What each battery gives over the outing, and how long it lasts."""
