"""Systematic changes of a pack: which of them its cases catch, and what case would catch the others."""
