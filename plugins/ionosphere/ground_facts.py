"""Facts of the ground in front of the antenna: how it conducts, and what it does to low angles."""

from __future__ import annotations

from typing import Any

from afield.core.api import CannotTell, Estimate, Fact, Piece, Subject, _, fact, local_digits, marked
from afield.plugins.ionosphere.wording import plain

KINDS = {
    marked("sea"): "Sea Water", marked("fresh water"): "Fresh Water", marked("good ground"): "Wet",
    marked("average ground"): "Medium Dry", marked("poor ground"): "Very Dry",
}  # fmt: skip
"""Ground as a plan has it -> type of ITU-R P.527-3."""
CITY = (5.0, 0.001)
"""Permittivity and conductivity in S/m of built-up ground: common practice, no source."""
GROUNDS = (*KINDS, marked("city"))
LOW_DEG = 10.0
"""The angle that is called low: a hop of about 2,000 km by the F2 layer leaves at it."""
WIDE = marked("Of flat, uniform ground over many wavelengths in front of the antenna; its own pattern is not in it.")
FRESH = marked(
    "Fresh water conducts 2,500 times less than the sea: a ground wire in a lake is no ground wire in the sea, and at "
    "low angles a lake lies between the land and the sea."
)


def constants_of(ground: str) -> tuple[float, float]:
    """Relative permittivity, and conductivity in S/m."""
    from afield.plugins.ionosphere.computations.ground import ground_constants

    if ground == "city":
        return CITY
    found = ground_constants(KINDS[ground])
    return found.er, found.sigma_s_per_m


@fact(
    "ground.conductivity", kind="trip", type="number", unit="", title="conductivity of the ground in front, in S/m",
    owns_uncertainty=True, detail={"permittivity": "relative permittivity"}, least=0.0,
)  # fmt: skip
def ground_conductivity(station_ground: str) -> Estimate:
    """The conductivity of the stated ground: an order of size, three times less to three times more."""
    permittivity, conductivity = constants_of(station_ground)
    # The sea is the same everywhere but for its salt.
    times = 1.5 if station_ground == "sea" else 3.0
    source = _("common practice, no source") if station_ground == "city" else _("ITU-R P.527-3, figure 1")
    notes = (_(FRESH),) if station_ground == "fresh water" else ()
    detail = {"permittivity": plain(permittivity)}
    return Estimate(
        conductivity, conductivity / times, conductivity * times, detail=detail, method=source, notes=notes
    )  # fmt: skip


@fact(
    "part.low_angle_gain", kind="part", type="number", unit="dB", title="gain by the ground at 10 degrees",
    each={"slots": ("slot", "slot.stated")},
    optional=["schedule_band", "schedule_frequency", "part_at", "part_from", "part_to"],
    detail={
        "frequency": "planned frequency with the least, MHz", "wave": "vertical or horizontal",
        "middle": "height of the antenna's middle, m", "over_sea": "the same over the sea, dB",
        "over_average": "the same over average ground, dB",
    },
)  # fmt: skip
def part_low_angle_gain(
    subject: Subject, part_role: str, part_height: float, station_ground: str,
    slots: list[tuple[Subject, dict[str, Any]]], schedule_band: str | None, schedule_frequency: float | None,
    part_at: Piece | None, part_from: Piece | None, part_to: Piece | None,
) -> Estimate:  # fmt: skip
    """What the ground's reflection adds to the field in free space at 10 degrees, on the worst planned frequency.

    An antenna between two places is taken as a level wire at its height, one at a single place as an upright one from
    the ground to its height. What the ground's constants leave open, three times less to three times more, and the
    height's uncertainty are in it.
    """
    from afield.plugins.ionosphere.low_angles import Antenna, gain_at, planned_mhz, weakest

    if part_role != "antenna":
        raise CannotTell(_("{part} is no antenna but {role}").format(part=subject.label, role=_(part_role)))
    antenna = Antenna(part_height, upright=part_from is None or part_to is None)
    if antenna.upright and part_at is None:
        text = _("it is not stated where {part} is").format(part=subject.label)
        raise CannotTell(text, "station.parts[].at", "not stated")
    mhz = planned_mhz([stated for _, stated in slots], schedule_band, schedule_frequency)
    worst = weakest(antenna, mhz, constants_of(station_ground))
    others = {key: gain_at(antenna, worst.mhz, constants_of(ground)) for key, ground in OTHERS.items()}
    detail = {
        "frequency": f"{worst.mhz:g}",
        "wave": _(antenna.wave), "middle": local_digits(f"{antenna.middle_m:.1f}"),
        **{key: local_digits(f"{gain:.1f}") for key, gain in others.items()},
    }  # fmt: skip
    method = _("Fresnel coefficients, ITU-R P.527; plane waves")
    parts = {_("constants of {ground}").format(ground=_(station_ground)): worst.around_db}
    return Estimate(worst.gain_db, parts=parts, detail=detail, method=method, notes=(_(WIDE),))


OTHERS = {"over_sea": "sea", "over_average": "average ground"}

FACTS: list[Fact] = [ground_conductivity, part_low_angle_gain]
