"""Facts that could tell two versions of a rule apart: around its bounds, of every choice, on the days of its dates."""
