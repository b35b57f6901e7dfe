"""Whether batteries may go on an aircraft: by the watt-hours that are marked on them."""

from __future__ import annotations

import re

from afield.core.api import CannotTell, Estimate, Fact, Subject, fact
from afield.plugins.power.battery.cells import chemistry_of, has_battery, nominal_of
from afield.plugins.power.computations.air_transport import SPARES_WITH_APPROVAL, air_transport_class
from afield.plugins.power.stated import thing_of

AIRCRAFT = frozenset(
    ("plane", "planes", "aeroplane", "airplane", "aircraft", "airline", "air", "flight", "flying", "fly")
)
LITHIUM = ("lithium ion", "lithium iron phosphate")
CARRIERS = (
    "A carrier may be stricter; many have tightened their rules for power banks since 2025: ask before each trip."
)
CATEGORIES = ("allowed", "airline-approval", "forbidden")


@fact(
    "battery.flies",
    kind="item",
    type="bool",
    title="whether it goes on an aircraft",
    exact=True,
    optional=["travel_by"],
)
def battery_flies(travel_by: str | None, subject: Subject) -> Estimate:
    """Whether it is or holds a battery, and the way of travel names an aircraft."""
    flies = has_battery(thing_of(subject)) and bool(AIRCRAFT & set(re.findall(r"[a-z]+", (travel_by or "").lower())))
    return Estimate(flies, method="by the words of travel.by")


@fact(
    "battery.air_category", kind="item", type="text", title="whether a passenger may take it", exact=True,
    choices=CATEGORIES, detail={"baggage": "in which baggage it goes", "spares": "how many spares at most"},
)  # fmt: skip
def battery_air_category(battery_label_energy: float, subject: Subject) -> Estimate:
    """By the marked watt-hours of a lithium battery: allowed, with the airline's approval, or forbidden.

    Source: 49 CFR 175.10(a)(18), edition of 2018, and the TSA's page (read in copies); IATA DGR 2.3 has the same.
    """
    thing = thing_of(subject)
    if chemistry_of(thing) not in LITHIUM:
        what = f"the rule for {chemistry_of(thing)} batteries such as {thing.name} needs more than its watt-hours"
        raise CannotTell(what, "the carrier's answer")
    nominal = nominal_of(thing)
    found = air_transport_class(nominal, battery_label_energy / nominal, spare=thing.class_ in ("battery", "supply"))
    most = {"allowed": "no number in law", "airline-approval": str(SPARES_WITH_APPROVAL), "forbidden": "none"}
    detail = {"baggage": found.baggage, "spares": most[found.category]}
    return Estimate(found.category, detail=detail, method="by the marked watt-hours", notes=(CARRIERS,))


FACTS: list[Fact] = [battery_flies, battery_air_category]
