"""How likely a number of contacts is in a time, and how much time a number needs."""
