"""The section of the briefing on contacts: what the claims need, and how likely it is."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

from afield.core.api import Section
from afield.plugins.contacts.chances_figure import chances_figure
from afield.plugins.contacts.plain import contacts_text
from afield.plugins.contacts.section_data import WANTS, contacts_data


def sections() -> list[Section]:
    """Contacts, after the timeline."""
    schema: dict[str, Any] = json.loads(
        files("afield.schemas").joinpath("sections", "contacts.json").read_text("utf-8")
    )
    return [
        Section(
            name="contacts", title="Contacts", order=45, wants=WANTS, data=contacts_data, schema=schema,
            template="contacts.html", package="afield.plugins.contacts", figures={"chances": chances_figure},
            text=contacts_text,
        )
    ]  # fmt: skip
