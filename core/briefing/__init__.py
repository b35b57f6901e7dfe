"""The briefing that goes in the bag: one HTML file or one plain text, made from the report and nothing else."""

from afield.core.briefing.page import briefing_html
from afield.core.briefing.plain import briefing_text

__all__ = ["briefing_html", "briefing_text"]
