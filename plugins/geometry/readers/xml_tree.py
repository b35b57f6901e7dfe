"""XML read with expat, without what turns a file into a weapon: no DOCTYPE, no entities, no endless nesting."""

from typing import NoReturn
from xml.etree.ElementTree import Element, TreeBuilder
from xml.parsers import expat

from afield.plugins.geometry.readers.layer import GeoFileError

DEEPEST = 100


class _SafeBuilder:
    """The handlers of one parse: elements without their namespaces, and a refusal of all that declares something."""

    def __init__(self, shown: str) -> None:
        self.shown = shown
        self.depth = 0
        self.builder = TreeBuilder()

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Open an element, called by its local name."""
        self.depth += 1
        if self.depth > DEEPEST:
            advice = "Save the file again from the program that made it."
            raise GeoFileError(f"{self.shown}: elements are nested more than {DEEPEST} deep", advice)
        self.builder.start(tag.rpartition("}")[2], attributes)

    def end(self, tag: str) -> None:
        """Close an element."""
        self.depth -= 1
        self.builder.end(tag.rpartition("}")[2])

    def refuse(self, *_: object) -> NoReturn:
        """Raise GeoFileError at a document type or entity declaration."""
        what = f"{self.shown}: this XML declares a document type (DOCTYPE), which can hide other files in it"
        raise GeoFileError(what, "Remove the DOCTYPE, or save the file again from the program that made it.")


def xml_root(data: bytes, shown: str) -> Element:
    """The root element, tags without namespaces. Raises GeoFileError with line and column where it is not good XML."""
    handlers = _SafeBuilder(shown)
    parser = expat.ParserCreate(namespace_separator="}")
    parser.buffer_text = True
    parser.StartElementHandler = handlers.start
    parser.EndElementHandler = handlers.end
    parser.CharacterDataHandler = handlers.builder.data
    parser.StartDoctypeDeclHandler = handlers.refuse
    parser.EntityDeclHandler = handlers.refuse
    try:
        parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as error:
        raise broken_xml(error, shown) from None
    return handlers.builder.close()


def broken_xml(error: Exception, shown: str) -> GeoFileError:
    """The message for XML that breaks off, or that is wrong at a line and column."""
    advice = "Copy or download it again, or save it again from the program that made it."
    if not isinstance(error, expat.ExpatError):
        return GeoFileError(f"{shown}: the XML is in an encoding that is not known", advice)
    reason = expat.ErrorString(error.code)
    return GeoFileError(f"{shown}:{error.lineno}:{error.offset + 1}: this is not whole XML ({reason})", advice)


def child_text(element: Element, tag: str) -> str | None:
    """The stripped text of the first child of this tag; None where there is none or it is empty."""
    return (element.findtext(tag) or "").strip() or None
