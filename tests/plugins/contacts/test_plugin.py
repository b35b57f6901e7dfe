from __future__ import annotations

import importlib

import pytest

from afield.plugins.contacts.plugin import afield_computations


@pytest.mark.parametrize("address", afield_computations())
def test_every_address_leads_to_a_documented_function(address: str) -> None:
    module, _, name = address.partition(":")
    said = getattr(importlib.import_module(module), name).__doc__
    assert [part for part in ("Formula", "ource", "alid", "Args:", "Raises:") if part not in said] == []
