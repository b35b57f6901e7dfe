"""A pack as a readable rulebook: its rules in sentences, its limits with dates and sources, examples from its cases."""

from afield.core.authoring.rulebook.build import rulebook_json
from afield.core.authoring.rulebook.examples import WrongCases
from afield.core.authoring.rulebook.page import rulebook_html
from afield.core.authoring.rulebook.text import rulebook_text

__all__ = ["WrongCases", "rulebook_html", "rulebook_json", "rulebook_text"]
