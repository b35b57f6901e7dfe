"""What was found as JUnit XML: a test for each finding, and one for each code of which nothing was found."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from afield.core.authoring.lint.as_text import summary
from afield.core.authoring.lint.build import Linted
from afield.core.authoring.lint.codes import CODES, NOTE
from afield.core.authoring.lint.findings import Finding


def lint_junit(linted: Linted) -> str:
    """The document: errors and warnings fail, notes are told, exceptions are skipped with their reasons."""
    cases = list(_cases(linted))
    failures = sum(case.find("failure") is not None for case in cases)
    counts = {"tests": str(len(cases)), "failures": str(failures), "errors": "0"}
    skipped = str(len(linted.kept))
    whole = Element("testsuites", {"name": "afield pack lint", **counts})
    suite = SubElement(whole, "testsuite", {"name": _clean(str(linted.pack.name)), **counts, "skipped": skipped})
    properties = SubElement(suite, "properties")
    for name, value in {"now": linted.now.isoformat(), **linted.looked_at}.items():
        SubElement(properties, "property", {"name": name, "value": str(value)})
    suite.extend(cases)
    SubElement(suite, "system-out").text = _clean(summary(linted))
    indent(whole)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(whole, encoding="unicode") + "\n"


def _cases(linted: Linted) -> Iterator[Element]:
    for found in linted.findings:
        case = _case(linted, f"{found.code} at {found.place}")
        if found.severity == NOTE:
            SubElement(case, "system-out").text = _words(found)
        else:
            failure = SubElement(case, "failure", {"type": found.severity, "message": _clean(found.what)})
            failure.text = _words(found)
        yield case
    for kept in linted.kept:
        case = _case(linted, f"{kept.finding.code} at {kept.finding.place}")
        SubElement(case, "skipped", {"type": "kept", "message": _clean(kept.reason)}).text = _words(kept.finding)
        yield case
    met = {found.code for found in [*linted.findings, *(kept.finding for kept in linted.kept)]}
    yield from (_case(linted, code) for code in CODES if code not in met)


def _case(linted: Linted, name: str) -> Element:
    return Element("testcase", {"classname": _clean(linted.pack.id), "name": _clean(name)})


def _words(found: Finding) -> str:
    return _clean(f"{found.place}: {found.what}\n{found.advice}")


def _clean(text: str) -> str:
    """The text without characters that XML 1.0 does not allow (section 2.2)."""
    return "".join(letter if _is_allowed(ord(letter)) else "�" for letter in text)


def _is_allowed(point: int) -> bool:
    return point in (9, 10, 13) or 0x20 <= point < 0xD800 or 0xE000 <= point < 0xFFFE or point > 0xFFFF
