"""Where the station is, what each reference is on the map, and how far the whole station keeps within it."""
