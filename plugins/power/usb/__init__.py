"""USB power: what a port, a cable and a device agree on, and what a computer gains."""
