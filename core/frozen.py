"""`@frozen`: a frozen dataclass with slots that is made in an eighth of the time.

The standard library's `dataclass` compiles seven functions for every frozen class: over all classes that `afield check`
imports, a tenth of its time. Here one is compiled, `__init__`; the others are shared. In all else it is a dataclass:
`replace`, `fields`, `asdict`, `is_dataclass`, `copy`, `pickle` and `match` take it as such.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field
from reprlib import recursive_repr
from typing import Any, TypeVar, dataclass_transform, overload

Class = TypeVar("Class")
_LEFT_OUT = ("__dict__", "__weakref__")
"""What a class with slots must not take over from the class that it stands for."""


@overload
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(of: type[Class]) -> type[Class]: ...


@overload
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(*, slots: bool = True, eq: bool = True, order: bool = False) -> Callable[[type[Class]], type[Class]]: ...


def frozen(of: Any = None, *, slots: bool = True, eq: bool = True, order: bool = False) -> Any:
    """The class as a frozen dataclass, its annotations being its fields.

    Args:
        of: the class.
        slots: off where a `cached_property` needs a `__dict__`.
        eq: off where an instance equals itself only.
        order: instances are ordered by their fields, the first one first.

    Raises:
        TypeError: a base of it is a dataclass, or a `field(...)` says anything but a `default_factory`.
        ValueError: a default, such as a list, that all instances would share and could change.

    """

    def made(written: type) -> type:
        if any(hasattr(base, "__dataclass_fields__") for base in written.__bases__):
            raise TypeError(f"{written.__name__} would lose the fields of its base")
        names = _names(written)
        defaults = {name: vars(written)[name] for name in names if name in vars(written)}
        found = _slotted(written, names) if slots else _bared(written, defaults)
        _equip(found, names, defaults)
        _compare(found, names, eq, order)
        return found

    return made if of is None else made(of)


def _names(written: type) -> tuple[str, ...]:
    annotations: Mapping[str, Any] = vars(written).get("__annotations__", {})
    return tuple(name for name, said in annotations.items() if "ClassVar" not in str(said))


def _slotted(written: type, names: tuple[str, ...]) -> type:
    """The class anew: slots can only be given to a class that is being made."""
    inside = {name: value for name, value in vars(written).items() if name not in (*names, *_LEFT_OUT)}
    pickled = {"__getstate__": _state, "__setstate__": _restore}
    return type(written)(written.__name__, written.__bases__, {**pickled, **inside, "__slots__": names})


def _bared(written: type, defaults: Mapping[str, Any]) -> type:
    """The class, in which a `field(...)` stands for no value."""
    for name, default in defaults.items():
        if isinstance(default, Field):
            delattr(written, name)
    return written


def _equip(found: Any, names: tuple[str, ...], defaults: Mapping[str, Any]) -> None:
    inside = vars(found)
    found.__match_args__ = names  # type: ignore[misc]
    found.__dataclass_fields__ = _Fields(names, inside.get("__annotations__", {}), defaults)
    found.__init__ = _init(found, names, defaults)
    found.__setattr__, found.__delattr__ = _refuse, _refuse
    if "__repr__" not in inside:
        found.__repr__ = _repr


def _init(found: Any, names: tuple[str, ...], defaults: Mapping[str, Any]) -> Callable[..., None]:
    """The one function that is compiled: it sets every slot straight, past the refusal to change an instance.

    What it uses is named with two underscores, as no field can be.
    """
    known: dict[str, Any] = {"__missing": MISSING}
    heads = [_head(name, defaults[name], known) if name in defaults else name for name in names]
    lines = [*_made_defaults(defaults), *_settings(found, names, known)]
    if hasattr(found, "__post_init__"):
        lines.append("self.__post_init__()")
    exec(f"def __init__(self, {', '.join(heads)}):\n " + "\n ".join(lines or ["pass"]), known)
    init: Callable[..., None] = known["__init__"]
    init.__module__, init.__qualname__ = found.__module__, f"{found.__qualname__}.__init__"
    return init


def _head(name: str, default: Any, known: dict[str, Any]) -> str:
    """The parameter with its default. Raises as `frozen`."""
    if isinstance(default, Field):
        if default.default_factory is MISSING:
            raise TypeError(f"a frozen class takes field(default_factory=...) only, for {name} too")
        known[f"__make_{name}"], default = default.default_factory, MISSING
    elif type(default).__hash__ is None:
        raise ValueError(f"all instances would share the {type(default).__name__} of {name}: give a default_factory")
    known[f"__default_{name}"] = default
    return f"{name}=__default_{name}"


def _made_defaults(defaults: Mapping[str, Any]) -> Iterator[str]:
    for name, default in defaults.items():
        if isinstance(default, Field):
            yield f"if {name} is __missing: {name} = __make_{name}()"


def _settings(found: Any, names: tuple[str, ...], known: dict[str, Any]) -> Iterator[str]:
    if "__slots__" not in vars(found):
        yield from (f"self.__dict__[{name!r}] = {name}" for name in names)
        return
    for name in names:
        known[f"__set_{name}"] = vars(found)[name].__set__
        yield f"__set_{name}(self, {name})"


class _Fields:
    """`__dataclass_fields__`, by which the standard library knows a dataclass: made when it is first asked for."""

    def __init__(self, names: tuple[str, ...], annotations: Mapping[str, Any], defaults: Mapping[str, Any]) -> None:
        inside = {name: default for name, default in defaults.items() if name in names}
        self.inside = {**inside, "__annotations__": {name: annotations[name] for name in names}}

    def __get__(self, instance: object, owner: type) -> Any:
        plain: Any = dataclass(init=False, repr=False, eq=False)(type(owner.__name__, (), dict(self.inside)))
        owner.__dataclass_fields__ = plain.__dataclass_fields__  # type: ignore[attr-defined]
        return plain.__dataclass_fields__


def _compare(found: Any, names: tuple[str, ...], eq: bool, order: bool) -> None:
    values = _values(names)
    if eq and "__eq__" not in vars(found):

        def equal(self: Any, other: Any) -> bool:
            return values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented

        found.__eq__, found.__hash__ = equal, lambda self: hash(values(self))
    if order:
        _order(found, values)


def _values(names: tuple[str, ...]) -> Callable[[Any], tuple[Any, ...]]:
    """What gives an instance's values as a tuple."""
    if len(names) > 1:
        return operator.attrgetter(*names)
    return lambda self: tuple(getattr(self, name) for name in names)


def _order(found: Any, values: Callable[[Any], tuple[Any, ...]]) -> None:
    def comparing(compare: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
        def compared(self: Any, other: Any) -> Any:
            return compare(values(self), values(other)) if other.__class__ is self.__class__ else NotImplemented

        return compared

    for name in ("lt", "le", "gt", "ge"):
        setattr(found, f"__{name}__", comparing(getattr(operator, name)))


@recursive_repr()
def _repr(self: Any) -> str:
    values = ", ".join(f"{name}={getattr(self, name)!r}" for name in self.__match_args__)
    return f"{self.__class__.__qualname__}({values})"


def _refuse(self: Any, name: str, value: Any = None) -> None:
    raise FrozenInstanceError(f"{type(self).__name__} is frozen: {name} cannot be changed")


def _state(self: Any) -> list[Any]:
    return [getattr(self, name) for name in self.__match_args__]


def _restore(self: Any, state: list[Any]) -> None:
    for name, value in zip(self.__match_args__, state, strict=True):
        object.__setattr__(self, name, value)
