"""Where the station can stand, and which way it can lie, so that its claims count."""
