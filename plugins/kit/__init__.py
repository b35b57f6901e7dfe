"""What is in the bag: items, their ports, what joins them, what is missing, and what ends the outing if it breaks."""
