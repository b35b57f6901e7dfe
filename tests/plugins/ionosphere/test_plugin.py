from __future__ import annotations

import importlib
import subprocess
import sys
from pathlib import Path

import pytest

from afield.plugins.ionosphere.plugin import afield_computations

DEMO = Path(__file__).parents[3] / "programs" / "demo" / "trip.yaml"


@pytest.mark.parametrize("address", afield_computations())
def test_every_address_leads_to_a_documented_function(address: str) -> None:
    module, _, name = address.partition(":")
    said = getattr(importlib.import_module(module), name).__doc__
    assert [part for part in ("Formula", "ource", "alid", "Args:", "Raises:") if part not in said] == []


def test_listing_the_computations_loads_nothing_heavy() -> None:
    code = (
        "import sys, afield.plugins.ionosphere.plugin as one, afield.plugins.contacts.plugin as other\n"
        "one.afield_computations(), other.afield_computations()\n"
        "print(sorted({'numpy', 'scipy', 'PyIRI', 'matplotlib'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


def test_a_check_whose_rules_do_not_ask_loads_no_ionosphere() -> None:
    code = (
        "import sys\n"
        "from afield.core.cli.running import status_of\n"
        "status_of(['check', sys.argv[1]])\n"
        "names = ('PyIRI', 'scipy', 'matplotlib', 'afield.plugins.ionosphere.computations')\n"
        "print([name for name in names if name in sys.modules], file=sys.stderr)"
    )
    command = [sys.executable, "-c", code, str(DEMO)]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    assert "passed" in ran.stdout
    assert ran.stderr.splitlines()[-1] == "[]"
