"""The neutral sections of a plan that several plugins read: operators, station and parts, schedule, conditions, travel."""
