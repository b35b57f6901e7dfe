"""Rule packs, their places and the demo trip: data only, nothing here computes."""
