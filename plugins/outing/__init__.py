"""The neutral sections of a plan that several plugins read: operators, station, schedule, conditions, travel."""
