"""A validator for the few constructs of XML Schema that the schema of JUnit reports uses; any other is refused."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

XS = "{http://www.w3.org/2001/XMLSchema}"
KNOWN = {
    f"{XS}{name}"
    for name in (
        "schema", "simpleType", "restriction", "pattern", "complexType", "sequence", "choice", "element", "attribute",
    )
}  # fmt: skip


class Schema:
    """A schema file. W3C XML Schema 1.0, part 1: elements 3.3, attributes 3.2, complex types 3.4, model groups 3.8."""

    def __init__(self, path: Path) -> None:
        self.root = ElementTree.parse(path).getroot()
        unknown = {node.tag for node in self.root.iter()} - KNOWN
        assert not unknown, f"this validator does not know {unknown}"
        self.elements = {node.attrib["name"]: node for node in self.root.findall(f"{XS}element")}
        self.types = {node.attrib["name"]: node for node in self.root if node.tag != f"{XS}element"}

    def faults(self, document: str) -> list[str]:
        """What is wrong with a document; nothing where it is valid."""
        root = ElementTree.fromstring(document)
        declared = self.elements.get(root.tag)
        return [f"{root.tag} is not declared"] if declared is None else list(self._element(root, declared))

    def _element(self, node: Element, declared: Element) -> Iterator[str]:
        declared = self.elements[declared.attrib["ref"]] if "ref" in declared.attrib else declared
        kind = declared.find(f"{XS}complexType")
        if kind is None:
            kind = self.types.get(declared.get("type", ""))
        if kind is None or kind.tag != f"{XS}complexType":
            if len(node) or node.attrib:
                yield f"{node.tag} is text only"
            return
        yield from self._attributes(node, kind)
        yield from self._children(node, kind)
        if kind.get("mixed") != "true" and any((text or "").strip() for text in [node.text, *(c.tail for c in node)]):
            yield f"{node.tag} holds text"

    def _attributes(self, node: Element, kind: Element) -> Iterator[str]:
        known = {each.attrib["name"]: each for each in kind.findall(f"{XS}attribute")}
        yield from (f"{node.tag} has no attribute {name}" for name in node.attrib if name not in known)
        for name, each in known.items():
            if each.get("use") == "required" and name not in node.attrib:
                yield f"{node.tag} lacks {name}"
            pattern = self._pattern(each.attrib["type"])
            if name in node.attrib and pattern and not re.fullmatch(pattern, node.attrib[name]):
                yield f"{node.tag} {name} is {node.attrib[name]}"

    def _pattern(self, name: str) -> str | None:
        found = self.types[name].find(f".//{XS}pattern") if name in self.types else None
        return found.attrib["value"] if found is not None else None

    def _children(self, node: Element, kind: Element) -> Iterator[str]:
        group = next((each for each in kind if each.tag in (f"{XS}sequence", f"{XS}choice")), None)
        names = [child.tag for child in node]
        expression = self._expression(group) if group is not None else ""
        if not re.fullmatch(expression, "".join(f"<{name}>" for name in names)):
            yield f"{node.tag} may not hold {names}"
            return
        inner = {each.get("ref") or each.get("name"): each for each in kind.iter(f"{XS}element")}
        for child in node:
            yield from self._element(child, inner[child.tag])

    def _expression(self, part: Element) -> str:
        """The group as a regular expression over the children's names."""
        if part.tag == f"{XS}element":
            inner = f"<{re.escape(part.get('ref') or part.attrib['name'])}>"
        else:
            inner = ("|" if part.tag == f"{XS}choice" else "").join(self._expression(each) for each in part)
        most = part.get("maxOccurs", "1").replace("unbounded", "")
        return f"(?:{inner}){{{part.get('minOccurs', '1')},{most}}}"
