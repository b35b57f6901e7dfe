"""Subjects, declared facts, and the World that holds their values."""
