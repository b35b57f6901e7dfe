"""The report as text; every form is made from the JSON alone."""
