"""A plan beside its variants, each judged whole: what differs, and whether it differs by more than is uncertain."""
