from math import hypot
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.api import WrittenFloat, read_text
from afield.plugins.geometry.computations.geodesy import geodesic_inverse
from afield.plugins.geometry.computations.locator import maidenhead_encode, maidenhead_uncertainty
from afield.plugins.geometry.computations.military_grid import geographic_to_mgrs
from afield.plugins.geometry.computations.utm import geographic_to_utm
from afield.plugins.geometry.position_form import length_text, metres_per_degree
from afield.plugins.geometry.positions import PositionError, PositionForm, read_position
from afield.plugins.geometry.readers import Feature, GeoFileError, Layer

FORMS = (
    'Write {lat: 39.90412, lon: -117.30288}, {utm: "11S 474110 4417159"}, {mgrs: "11SME7411017159"}, '
    '{locator: "DM19iv"} or {file: points.gpx, point: NAME}.'
)
HOW_LAT = 'Write degrees, for example 39.90412 or "39 54 14.8 N".'
HOW_LON = 'Write degrees, for example -117.30288 or "117 18 10.4 W".'
HOW_UTM = (
    'Write zone and band letter, easting and northing in metres: "11S 474110 4417159", or "11 north 474110 4417159".'
)
HOW_MGRS = 'Write zone and band, square, and as many digits for the easting as for the northing: "11SME7411017159".'
HOW_LOCATOR = 'A locator is written like "DM19iv", or with more pairs "DM19iv36".'
SWAPPED = "Are latitude and longitude swapped?"
HERE = (39.90412, -117.30288)


def no_file(file: str, layer: str | None) -> Layer:
    raise AssertionError(f"{file} {layer} was read")


def position(at: Any) -> PositionForm:
    return read_position(at, no_file)


def refusal(at: Any) -> tuple[str, str]:
    with pytest.raises(PositionError) as caught:
        position(at)
    return caught.value.what, caught.value.advice


def place(form: PositionForm) -> tuple[float, float]:
    return (form.lat_deg, form.lon_deg)


@pytest.mark.parametrize(
    "at",
    [
        {"lat": 39.90412, "lon": -117.30288, "accuracy": "5 m", "level": "68 %"},
        {"lat": "39.90412", "lon": "-117.30288"},
        {"lat": "39 54.2472 N", "lon": "117 18.1728 W"},
        {"lat": "39° 54' 14.832\" N", "lon": "117° 18' 10.368\" W"},
        "39.90412, -117.30288",
        "39 54.2472 N 117 18.1728 W",
        "N39 54.2472 W117 18.1728",
    ],
)
def test_degrees_in_any_writing_are_the_same_place(at: Any) -> None:
    found = position(at)
    assert place(found) == pytest.approx(HERE, abs=1e-9)
    assert (found.form, found.notes) == ("lat/lon", [])


def test_the_half_unit_is_that_of_the_last_digit_written() -> None:
    east, north = metres_per_degree(39.90412)
    decimal = position({"lat": 39.90412, "lon": -117.3029}).resolution_m
    assert decimal == pytest.approx((0.5e-4 * east, 0.5e-5 * north))
    minutes = position({"lat": "39 54.25 N", "lon": "117 18 W"}).resolution_m
    assert minutes == pytest.approx((0.5 / 60 * east, 0.005 / 60 * north), rel=1e-4)
    seconds = position({"lat": "39 54 14.8 N", "lon": "117 18 10 W"}).resolution_m
    assert seconds == pytest.approx((0.5 / 3600 * east, 0.05 / 3600 * north), rel=1e-4)


def test_a_number_in_quotes_keeps_its_last_noughts() -> None:
    assert position({"lat": "39.90000", "lon": "-117.00000"}).notes == []
    assert position({"lat": 39.9, "lon": -117}).notes == [
        "The digits of lat and lon leave 43 km east or west and 5.6 km north or south open; write more of "
        "them, last noughts too."
    ]


def test_a_bare_number_keeps_its_last_noughts() -> None:
    east, north = metres_per_degree(39.904)
    found = position(read_text("{lat: 39.9040, lon: -117.30}").data)
    assert found.resolution_m == pytest.approx((0.5e-2 * east, 0.5e-4 * north))
    assert position(read_text("{lat: 39.90000, lon: -117.00000}").data).notes == []
    whole = position(read_text("{lat: 0.0, lon: 180}").data)
    assert whole.resolution_m == pytest.approx((0.5 * metres_per_degree(0)[0], 0.05 * metres_per_degree(0)[1]))


def test_a_minus_on_nought_degrees_is_kept() -> None:
    assert position({"lat": "-0 30", "lon": "0 30 W"}).lat_deg == -0.5


def test_a_small_number_is_read_without_an_exponent() -> None:
    assert position({"lat": 0.00001, "lon": -0.00001}).resolution_m == pytest.approx((0.5566, 0.5529), abs=1e-3)


@pytest.mark.parametrize(
    ("at", "what", "advice"),
    [
        ({"lat": -117.3, "lon": 39.9}, "latitude -117.3 is outside -90 to 90", SWAPPED),
        ({"lat": 95, "lon": 170.5}, "latitude 95 is outside -90 to 90", HOW_LAT),
        ({"lat": 39.9, "lon": 200.5}, "longitude 200.5 is outside -180 to 180", HOW_LON),
        ({"lat": float("nan"), "lon": 3}, "latitude nan is outside -90 to 90", HOW_LAT),
        ({"lat": 3, "lon": float("inf")}, "longitude inf is outside -180 to 180", HOW_LON),
        ({"lat": None, "lon": 3}, "latitude None is no angle", HOW_LAT),
        ({"lat": 3, "lon": True}, "longitude True is no angle", HOW_LON),
        ({"lat": 39.9}, "lat stands without lon", FORMS),
        ({"lon": 39.9}, "lon stands without lat", FORMS),
        ({"accuracy": "5 m"}, "this states no position", FORMS),
        ({"lat": 1, "lon": 2, "locator": "DM19"}, "the position is stated twice: as lat/lon and as locator", None),
        ("by the river", '"by the river" is no position', FORMS),
        ({"locator": 19}, "locator 19 is not text", "Write it as text, in quotes."),
        ({"locator": "DM1"}, 'locator "DM1" has 3 characters; a locator has 2, 4, 6, 8 or 10', HOW_LOCATOR),
        ({"locator": "ZZ19"}, 'locator "ZZ19": character 1 is "Z"; A to R is due there', HOW_LOCATOR),
        ({"utm": "nonsense"}, '"nonsense" is no UTM position', HOW_UTM),
        ({"utm": "61S 474110 4417159"}, "zone 61 does not exist; UTM zones are 1 to 60", HOW_UTM),
        (
            {"utm": "11I 474110 4417159"},
            '"I" is neither a band letter (C to X without I and O), nor north or south',
            HOW_UTM,
        ),
        (
            {"utm": "12 north 474110 9417214"},
            "latitude 84.7931 is outside UTM, which reaches from -80 to 84",
            HOW_UTM,
        ),
        (
            {"utm": "56S 334000 6250000"},
            "northing 6250000 does not lie in band S (32 N to 40 N)",
            'If S was meant for south, write "56 south 334000 6250000". A band letter names 8 degrees of latitude; '
            "check it on the map.",
        ),
        (
            {"utm": "56K 334000 6250000"},
            "northing 6250000 does not lie in band K (24 S to 16 S)",
            "A band letter names 8 degrees of latitude; check it on the map.",
        ),
    ],
)
def test_a_position_that_cannot_be_read_says_why(at: Any, what: str, advice: str | None) -> None:
    assert refusal(at) == (what, advice or "Keep one of them.")


@pytest.mark.parametrize(
    "at", [{"lat": "117 18 W", "lon": "39 54 N"}, {"lat": "-117.3", "lon": "39.9"}, {"lat": 39.9, "lon": "39 54 N"}]
)
def test_an_angle_that_fits_the_other_axis_asks_whether_they_are_swapped(at: Any) -> None:
    assert refusal(at)[1] == SWAPPED


def test_an_angle_that_fits_neither_axis_gets_an_example() -> None:
    assert refusal({"lat": "39 70 00", "lon": 3})[1] == HOW_LAT
    assert refusal({"lat": 3, "lon": "somewhere"})[1] == HOW_LON


def test_the_letter_s_is_the_band_and_said() -> None:
    found = position({"utm": "11S 474110.11 4417159.46"})
    assert place(found) == pytest.approx(HERE, abs=1e-6)
    assert (found.form, found.resolution_m) == ("utm", (0.005, 0.005))
    assert found.notes == [
        'Zone "11S" is read as band S (32 N to 40 N), as in MGRS; for the south write "11 south".',
    ]


def test_north_and_south_are_said_in_words() -> None:
    assert place(position({"utm": "11 north 474110 4417159"})) == pytest.approx(HERE, abs=1e-5)
    south = position("56 south 334000mE 6250000mN")
    assert place(south) == pytest.approx((-33.87729, 151.20514), abs=1e-5)
    assert south.notes == []
    assert place(position({"utm": "56H 334000 6250000"})) == place(south)


def test_the_letter_n_is_read_as_north_where_it_cannot_be_the_band() -> None:
    found = position({"utm": "11N 474110 4417159"})
    assert found.notes == ['Zone "11N" is read as north: the position is not in band N (0 to 8 N).']
    assert position({"utm": "31N 400000 500000"}).notes == []


def test_a_position_outside_its_zone_is_said() -> None:
    notes = position({"utm": "11 north 900000 4417214"}).notes
    assert notes == ["The position is written in UTM zone 11, but lies in zone 12."]


def test_mgrs_is_the_centre_of_its_square() -> None:
    found = position({"mgrs": "11S ME 741 171"})
    assert place(found) == place(position("11SME741171"))
    assert geodesic_inverse(*HERE, *place(found)).distance_m < found.bound_m == pytest.approx(hypot(50, 50))
    assert (found.form, found.resolution_m) == ("mgrs", (50.0, 50.0))
    assert found.notes == [
        'MGRS "11S ME 741 171" is a square of 100 m: its centre is taken, and the position may be up to 71 m from it.'
    ]


def test_mgrs_of_uneven_digits_is_refused() -> None:
    assert refusal({"mgrs": "11SME741"})[1] == HOW_MGRS


def test_a_locator_is_a_box() -> None:
    found = position("DM19iv")
    assert place(found) == pytest.approx((39.895833, -117.291667), abs=1e-6)
    assert found.resolution_m == pytest.approx((3564.6, 2313.2), abs=0.1)
    assert found.notes == [
        'Locator "DM19iv" is a box of 7.1 km by 4.6 km (east by north): its centre is taken, and the position may be '
        "up to 4.2 km from it."
    ]


def points_file(*points: Feature) -> Any:
    def read(file: str, layer: str | None) -> Layer:
        assert (file, layer) == ("points.gpx", None)
        return Layer("points", file, "", "geodesic", "WGS 84", 0.0, list(points), [])

    return read


def waypoint(name: str, *points: tuple[float, float]) -> Feature:
    return Feature(None, name, "point", points=list(points))


def test_a_named_point_of_a_file_is_taken() -> None:
    read = points_file(waypoint("Ford", (1.5, 2.5)), waypoint("Camp", HERE))
    found = read_position({"file": "points.gpx", "point": "Camp"}, read)
    assert (place(found), found.form) == (HERE, "file")
    assert found.resolution_m == (0.0, 0.0)
    assert read_position({"file": "points.gpx"}, points_file(waypoint("Camp", HERE))) == found


def test_a_point_of_a_file_keeps_the_digits_of_its_text() -> None:
    east, north = metres_per_degree(39.904)
    read = points_file(waypoint("Camp", (WrittenFloat("39.904000"), WrittenFloat("-117.3000"))))
    assert read_position({"file": "points.gpx"}, read).resolution_m == pytest.approx((0.5e-4 * east, 0.5e-6 * north))


def test_a_point_that_the_file_does_not_have_is_the_readers_error() -> None:
    with pytest.raises(GeoFileError) as caught:
        read_position({"file": "points.gpx", "point": "Cmap"}, points_file(waypoint("Camp", HERE)))
    assert caught.value.what == 'points.gpx: there is no feature with the name "Cmap" in it'
    assert caught.value.advice == 'Did you mean "Camp"? It has "Camp".'


def test_two_points_of_one_name_are_refused() -> None:
    read = points_file(waypoint("Camp", HERE), waypoint("Camp", (1.5, 2.5)))
    with pytest.raises(PositionError) as caught:
        read_position({"file": "points.gpx", "point": "Camp"}, read)
    assert caught.value.what == 'points.gpx: there are 2 points of the name "Camp"'
    assert caught.value.advice == "Give the point that is meant a name of its own."


def test_an_error_reads_as_what_and_advice() -> None:
    assert str(PositionError("this states no position", "Write one.")) == "this states no position\nWrite one."


@pytest.mark.parametrize(
    ("metres", "text"), [(0.7071, "0.71 m"), (707.1, "710 m"), (4242, "4.2 km"), (912_000, "910 km"), (999.9, "1000 m")]
)
def test_lengths_have_two_figures(metres: float, text: str) -> None:
    assert length_text(metres) == text


lats, lons = st.floats(-79.5, 83.5), st.floats(-179.9, 179.9)


@given(lats, lons, st.sampled_from([2, 4, 6, 8]))
def test_a_position_is_within_the_bound_of_its_locator(lat: float, lon: float, characters: int) -> None:
    text = maidenhead_encode(lat, lon, characters)
    found = position({"locator": text})
    assert abs(lat - found.lat_deg) * metres_per_degree(found.lat_deg)[1] <= found.resolution_m[1] * 1.000001
    assert characters == 2 or found.bound_m == pytest.approx(maidenhead_uncertainty(text), rel=0.02)


# A hair south of the equator MGRS rounds on to the line itself, whose square belongs to the north.
@given(lats.filter(lambda lat: not -1e-6 < lat < 0), lons)
def test_utm_and_mgrs_lead_back_to_the_position(lat: float, lon: float) -> None:
    grid = geographic_to_utm(lat, lon)
    side = "north" if grid.hemisphere == "N" else "south"
    utm = position({"utm": f"{grid.zone} {side} {grid.easting_m:.2f} {grid.northing_m:.2f}"})
    assert geodesic_inverse(lat, lon, *place(utm)).distance_m < 0.01
    mgrs = position(geographic_to_mgrs(lat, lon))
    assert geodesic_inverse(lat, lon, *place(mgrs)).distance_m < 0.75


@given(st.text(max_size=30) | st.from_regex(r"\d{1,2} ?[A-Za-z]{1,5} \d{1,8} \d{1,8}", fullmatch=True))
def test_any_text_is_a_position_on_earth_or_refused(text: str) -> None:
    try:
        found = position(text)
    except PositionError as error:
        assert error.advice.endswith((".", "?"))
    else:
        assert -90 <= found.lat_deg <= 90 and -180 <= found.lon_deg <= 180
