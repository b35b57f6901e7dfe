"""Direct current: the wires from batteries to loads, and the fuses in them."""
