"""A case as an author would write it, ready to be pasted into cases.yaml."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9_./%°-]|:(?=[A-Za-z0-9])| (?=[A-Za-z0-9_./%°-]))*")
_OTHERWISE = re.compile(r"(?i)true|false|yes|no|on|off|null|[-+.0-9][0-9_.]*(?:e[-+]?[0-9]+)?|0[xo].*|[0-9:]+|.*:")
"""Text that YAML would take for something else than text."""


def case_yaml(case: Mapping[str, Any], indent: str = "  ") -> str:
    """The lines of the case as an item of the list `cases`."""
    lines = [f"- name: {flow(case['name'])}", f"  rule: {flow(case['rule'])}", f"  date: {case['date']}", "  subjects:"]
    lines += [f"    - {flow(subject)}" for subject in case["subjects"]]
    lines += [f"  {key}: {flow(case[key])}" for key in ("of", "confirmed") if key in case]
    lines += [f"  expect: {flow(case['expect'])}"]
    return "".join(f"{indent}{line}\n" for line in lines)


def flow(value: Any) -> str:
    """The value on one line of YAML."""
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{key}: {flow(inner)}' for key, inner in value.items())}}}"
    if isinstance(value, list):
        return f"[{', '.join(flow(inner) for inner in value)}]"
    if isinstance(value, str):
        return value if _is_plain(value) else json.dumps(value, ensure_ascii=False)
    return json.dumps(value)


def _is_plain(text: str) -> bool:
    return bool(_PLAIN.fullmatch(text)) and not _OTHERWISE.fullmatch(text)
