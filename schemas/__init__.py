"""JSON Schemas of what people write and of what the program writes, and of the briefing's sections."""
