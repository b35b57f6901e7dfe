"""The ionosphere over a place: which bands carry how far, hour by hour; noise; ground reflection."""
