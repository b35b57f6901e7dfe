"""Rule packs: found, read, checked, tried by their own cases, and brought to a trip."""
