"""Which tolerance of a check case is for which of its quantities."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Any

from afield.core.frozen import frozen

UNITS = frozenset(
    {
        *("m", "km", "mm", "m2", "mm2", "ft", "mil", "deg", "arcsec", "s", "min", "h", "d", "nt", "hpa", "c", "f", "k"),
        *("v", "a", "ah", "w", "wh", "ohm", "mhz", "khz", "hz", "db", "dbm", "dbi", "pct"),
    }
)
"""Units as key names end in them; in the middle of a key (`distance_m_geodesic_edges`) they count too."""

IMPLIED_UNITS = {
    "lat": ("deg",),
    "lon": ("deg",),
    "utc": ("s",),
    "local": ("s",),
    "hms": ("s", "arcsec"),
    "dms": ("arcsec",),
    "minutes": ("min",),
    "hours": ("h",),
    "jd": ("d",),
}
"""Units of keys that do not name one."""

CIRCULAR = frozenset({"azimuth", "bearing", "magnetic"})
"""Words of quantities that are the same after a full turn of 360 degrees."""


@frozen
class Allowance:
    """How far a value may be from what is expected.

    Attributes:
        text: in words.
        absolute: greatest difference.
        relative: greatest difference as a share of what is expected; meeting either is enough.
        unit: that of `absolute`; empty if it is the value's own.
        exact: equality, of numbers to 12 significant digits.
        ignores_case: texts may differ in case.
        by_print: no tolerance is stated; the last printed figure decides.
        circular: a full turn of 360 makes no difference.
        of_time: a sexagesimal text is in hours, minutes and seconds.

    """

    text: str
    absolute: float = 0.0
    relative: float = 0.0
    unit: str = ""
    exact: bool = False
    ignores_case: bool = False
    by_print: bool = False
    circular: bool = False
    of_time: bool = False

    def holds(self, expected: float, got: float) -> bool:
        """Whether a number is close enough; never for one that is not finite."""
        error = abs(expected - got)
        if self.circular:
            error = min(error % 360, 360 - error % 360)
        if self.exact:
            return f"{expected:.12g}" == f"{got:.12g}"
        limit = max(self.absolute, self.relative * abs(expected))
        return isfinite(error) and error <= (half_printed_unit(expected) if self.by_print else limit)


class Tolerance:
    """The `tolerance:` of a check case.

    "exact" or `exact: true` is equality; `exact: case-insensitive` leaves case out; `abs` and `rel` are for every
    number, and meeting either is enough; WORD_abs is for keys that hold the word. Any other key names a quantity by
    unit (`deg`), by words and unit (`distance_m`) or by a word (`ids`), and gives the greatest difference or "exact".
    Of two keys with the right unit the one whose words the quantity's key holds is taken.
    """

    def __init__(self, stated: Any) -> None:
        self._stated: dict[str, Any] = dict(stated) if isinstance(stated, Mapping) else {}
        if isinstance(stated, str):
            self._stated = {"exact": stated == "exact" or stated}
        self._used: set[str] = set()

    def unused(self) -> list[str]:
        """Keys that matched no quantity so far."""
        return [key for key in self._stated if key not in self._used]

    def of(self, path: Sequence[str], expected: Any) -> Allowance:
        """The allowance of the value at the end of a path of keys."""
        for key in reversed(path):
            if matches := self._matches(key):
                return self._named(self._best(matches, key), key)
        return self._general(expected)

    def _matches(self, key: str) -> list[str]:
        return [stated for stated in self._stated if _names(stated, key)]

    def _best(self, matches: list[str], key: str) -> str:
        fitting = [stated for stated in matches if set(_words(stated)) <= _tokens(key)] or matches
        most = max(len(_words(stated)) for stated in fitting)
        best = [stated for stated in fitting if len(_words(stated)) == most]
        if len(best) > 1:
            raise ValueError(f'tolerances {", ".join(best)} all match "{key}"')
        return best[0]

    def _named(self, stated: str, key: str) -> Allowance:
        self._used.add(stated)
        value = self._stated[stated]
        if value == "exact":
            return Allowance("exact", exact=True)
        tokens = _tokens(key)
        return Allowance(
            f"{stated} {value}",
            absolute=float(value) * (1 + 1e-9),
            unit=_unit(stated),
            circular=bool(tokens & CIRCULAR),
            of_time="hms" in tokens,
        )

    def _general(self, expected: Any) -> Allowance:
        if "exact" in self._stated:
            self._used.add("exact")
            return Allowance("exact", exact=True, ignores_case=self._stated["exact"] == "case-insensitive")
        general = {key: self._stated[key] for key in ("abs", "rel", "same_library_rel") if key in self._stated}
        if not general or not _is_numeric(expected):
            return Allowance("of the last printed figure", by_print=True)
        self._used |= general.keys()
        if "same_library_rel" in general:
            # What another build may differ by is stated with it, and is not asked of this one.
            self._used |= self._stated.keys() & {"other_iri_rel"}
        relative = general.get("rel", general.get("same_library_rel", 0.0))
        text = ", ".join(f"{key} {value}" for key, value in general.items())
        return Allowance(text, absolute=float(general.get("abs", 0.0)), relative=float(relative))


def half_printed_unit(expected: float) -> float:
    """Half a unit of the last figure that a number is printed with."""
    mantissa, _, exponent = repr(float(expected)).removesuffix(".0").partition("e")
    decimals = len(mantissa.partition(".")[2])
    return 0.5 * 10.0 ** (int(exponent or 0) - decimals) * (1 + 1e-9)


def _is_numeric(expected: Any) -> bool:
    return isinstance(expected, (int, float)) and not isinstance(expected, bool)


def _tokens(key: str) -> set[str]:
    return set(key.lower().split("_"))


def _unit(stated: str) -> str:
    last = stated.lower().split("_")[-1]
    return last if last in UNITS else ""


def _words(stated: str) -> list[str]:
    words = stated.lower().split("_")
    return words[:-1] if words[-1] in UNITS or words[-1] == "abs" else words


def _units_of(key: str) -> tuple[str, ...]:
    for token in reversed(key.lower().split("_")):
        if token in UNITS:
            return (token,)
        if token in IMPLIED_UNITS:
            return IMPLIED_UNITS[token]
    return ()


def _names(stated: str, key: str) -> bool:
    if stated in ("exact", "abs", "rel", "same_library_rel", "other_iri_rel"):
        return False
    if stated == key:
        return True
    if unit := _unit(stated):
        return unit in _units_of(key)
    return all(_holds_word(key, word) for word in _words(stated))


def _holds_word(key: str, word: str) -> bool:
    singular = {token.removesuffix("s") for token in _tokens(key)}
    return word.removesuffix("s") in singular
