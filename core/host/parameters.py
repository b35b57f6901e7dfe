"""What a command of a plugin takes, marked on its parameters: `path: Annotated[Path, Option("--trip", help="...")]`.

The marks know nothing of the library that reads the command line, so that a command is declared without importing it.
"""

from __future__ import annotations


class Parameter:
    """What both marks say.

    Attributes:
        help: one sentence.
        metavar: how the value is called in the help; None = as the parameter's type says.
        show_default: whether the help shows the default.

    """

    __slots__ = ("help", "metavar", "show_default")

    def __init__(self, help: str, metavar: str | None = None, show_default: bool = True) -> None:
        self.help, self.metavar, self.show_default = help, metavar, show_default


class Argument(Parameter):
    """A word that stands by itself."""

    __slots__ = ()


class Option(Parameter):
    """A word that follows a flag; of a parameter that is a bool, the flag alone.

    Attributes:
        flags: such as "--output" and "-o".

    """

    __slots__ = ("flags",)

    def __init__(self, *flags: str, help: str, metavar: str | None = None, show_default: bool = True) -> None:
        super().__init__(help, metavar, show_default)
        self.flags = flags
