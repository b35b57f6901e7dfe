"""Time: zones, UTC days, the sun, and the schedule laid on both clocks."""
