"""Whether batteries may go on an aircraft: by the watt-hours that are marked on them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from afield.core.api import CannotTell, Estimate, Fact, Subject, _, fact, marked
from afield.plugins.power.stated import thing_of

if TYPE_CHECKING:
    from afield.plugins.power.stated import Thing

BY_AIR = re.compile(
    r"\b(air(craft|liner|line|plane)?|aeroplane|(sea)?plane|jet|glider|helicopter|fl(y|ying|ight|own))s?\b",
    re.IGNORECASE,
)
BY_LAND_OR_WATER = re.compile(
    r"\b(car|van|truck|lorry|vehicle|jeep|taxi|cab|camper|motor ?home|caravan|coach|(mini)?bus|train|rail(way)?|tram"
    r"|metro|subway|underground|(motor)?(bi)?cycle|(motor)?bike|cycling|scooter|foot|walk(ing)?|hik(e|ing)|drive|driving"
    r"|ski(ing)?|sledge|horse|mule|(row|motor|sail)?boat|ship|ferr(y|ie)|canoe|kayak|raft|dinghy|yacht|paddl(e|ing)"
    r"|sail(ing)?|cable ?car|gondola|chair ?lift|funicular|public transport)(e?s)?\b",
    re.IGNORECASE,
)
HOLD_ONE = ("computer", "phone")
"""Classes of items that hold a battery whether or not anybody describes it."""
NO_BATTERY = ("mains", "vehicle")
"""How the connector of a supply begins that is no power bank."""
NOT_STATED = marked("How one travels is not stated (travel.by): it is taken that no aircraft is used.")
CARRIERS = marked(
    "A carrier may be stricter; many have tightened their rules for power banks since 2025: ask before each trip."
)
NO_KNOWN_WORD = marked('whether "{by}" goes by air is not known: no word of it is, such as car, train, boat or plane')
MORE_THAN_ENERGY = marked("the rule for {chemistry} batteries such as {name} needs more than its watt-hours")
NO_NUMBER, NONE = marked("no number in law"), marked("none")
BAGGAGE = (marked("carry-on only"), marked("carry-on or checked"), NONE)
"""In which baggage a battery goes, as the computation says it."""
LITHIUM = ("lithium ion", "lithium iron phosphate")
CATEGORIES = (marked("allowed"), marked("airline-approval"), marked("forbidden"))


@fact(
    "battery.flies", kind="item", type="bool", title="whether it goes on an aircraft", exact=True,
    optional=["travel_by", "access_means"],
)  # fmt: skip
def battery_flies(travel_by: str | None, access_means: str | None, subject: Subject) -> Estimate:
    """Whether it is or holds a battery, and the way of travel names an aircraft.

    Raises:
        CannotTell: it has or may have a battery, and no word of the way of travel is known; or it goes by air, and
            whether it holds a battery is not stated.

    """
    from afield.plugins.power.battery.cells import has_battery

    thing = thing_of(subject)
    holds = has_battery(thing)
    if not holds and not may_hold_battery(thing):
        return Estimate(False, method=_("it holds no battery"))
    if travel_by is None and access_means is None:
        # Few plans for a day out say it; what is taken for granted stands among the assumptions.
        return Estimate(False, method=_("nothing is stated of the journey"), notes=(_(NOT_STATED),))
    flies = _by_air(travel_by, access_means)
    if flies and not holds:
        raise thing.silent(marked("the battery of {name} is not stated"), "battery")
    return Estimate(flies, method=_("by the words of travel.by and access.means"))


def may_hold_battery(thing: Thing) -> bool:
    """Whether a battery may be in an item of which none is described: in what works by itself, and in power banks.

    Also in a radio of which no ports are stated, which may be a hand-held one.
    """
    ports = thing.data.get("ports")
    if thing.class_ == "supply":
        return not any(str(port.get("connector", "")).startswith(NO_BATTERY) for port in ports or ())
    return thing.class_ in HOLD_ONE or (thing.class_ == "radio" and ports is None)


def _by_air(travel_by: str | None, access_means: str | None) -> bool:
    """Whether the way there is by air.

    Raises:
        CannotTell: no word of it is known.

    """
    if access_means == "aircraft" or BY_AIR.search(travel_by or ""):
        return True
    if travel_by is None:
        return False
    if not BY_LAND_OR_WATER.search(travel_by):
        raise CannotTell(_(NO_KNOWN_WORD).format(by=travel_by), "travel.by", "cannot be computed", "trip")
    return False


@fact(
    "battery.air_category", kind="item", type="text", title="whether a passenger may take it", exact=True,
    choices=CATEGORIES, detail={"baggage": "in which baggage it goes", "spares": "how many spares at most"},
)  # fmt: skip
def battery_air_category(battery_label_energy: float, subject: Subject) -> Estimate:
    """By the marked watt-hours of a lithium battery: allowed, with the airline's approval, or forbidden.

    Source: 49 CFR 175.10(a)(18), edition of 2018, and the TSA's page (read in copies); IATA DGR 2.3 has the same.
    """
    from afield.plugins.power.battery.cells import chemistry_of
    from afield.plugins.power.computations.air_transport import SPARES_WITH_APPROVAL, air_transport_class

    thing = thing_of(subject)
    if chemistry_of(thing) not in LITHIUM:
        what = _(MORE_THAN_ENERGY).format(chemistry=_(chemistry_of(thing)), name=thing.name)
        raise CannotTell(what, _("the carrier's answer"))
    # At 1 V the watt-hours stay exactly as marked: 100 Wh is allowed, and a rounding must not make it more.
    found = air_transport_class(1.0, battery_label_energy, spare=thing.class_ in ("battery", "supply"))
    most = {"allowed": _(NO_NUMBER), "airline-approval": str(SPARES_WITH_APPROVAL), "forbidden": _(NONE)}
    detail = {"baggage": _(found.baggage), "spares": most[found.category]}
    return Estimate(found.category, detail=detail, method=_("by the marked watt-hours"), notes=(_(CARRIERS),))


FACTS: list[Fact] = [battery_flies, battery_air_category]
