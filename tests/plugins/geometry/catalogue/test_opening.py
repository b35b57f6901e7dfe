"""A file that is no whole catalogue of this version is refused, with what to do."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from afield.plugins.geometry.catalogue.asked import Asked
from afield.plugins.geometry.catalogue.findings import findings
from afield.plugins.geometry.catalogue.layout import CatalogueError
from afield.plugins.geometry.catalogue.looking import references_near
from afield.plugins.geometry.catalogue.opening import opened
from afield.plugins.geometry.catalogue.saying import near_text
from afield.plugins.geometry.position_form import PositionForm

from .conftest import Made, collection, feature, square

AGAIN = "Build it again: `afield catalogue build FILES... -o refs.sqlite --force`."


@pytest.fixture
def path(made: Made, tmp_path: Path) -> Path:
    """A catalogue of 60 areas around one place."""
    shapes = [feature(f"a{k}", "Polygon", [square(-117.3, 39.9, 0.001 * (k + 1))]) for k in range(60)]
    made({"areas.geojson": collection(shapes)})
    return tmp_path / "refs.sqlite"


def refusal(path: Path) -> str:
    """What is said when the catalogue is asked."""
    with pytest.raises(CatalogueError) as error, opened(path, "refs.sqlite") as connection:
        references_near(connection, 39.9, -117.3, 5000)
    return str(error.value)


def test_a_whole_one_is_read_and_never_written(path: Path) -> None:
    before = path.read_bytes()
    with opened(path, "refs.sqlite") as connection:
        assert len(references_near(connection, 39.9, -117.3, 5000)) == 60
        with pytest.raises(sqlite3.OperationalError):
            connection.execute("DELETE FROM reference")
    assert path.read_bytes() == before
    assert {entry.name for entry in path.parent.iterdir()} == {"areas.geojson", "refs.sqlite"}


def test_another_version(path: Path) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute("PRAGMA user_version = 7")
    connection.close()
    assert refusal(path) == f"refs.sqlite: this catalogue is of version 7; version 1 is read\n{AGAIN}"


def test_cut_short(path: Path) -> None:
    size = path.stat().st_size
    os.truncate(path, size - 5000)
    assert refusal(path) == f"refs.sqlite: the catalogue is cut short: it has {size - 5000} bytes of {size}\n{AGAIN}"


@pytest.mark.parametrize("content", [b"", b"SQLite format 3\x00", b"hello", b"{}" * 99])
def test_another_kind_of_file(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    made = "Name a file that `afield catalogue build` has written."
    assert refusal(path) == f"refs.sqlite: this is not a catalogue of references\n{made}"


def test_another_sqlite_file(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / "refs.sqlite") as connection:
        connection.execute("CREATE TABLE reference (id)")
    connection.close()
    assert refusal(tmp_path / "refs.sqlite").startswith("refs.sqlite: this is not a catalogue of references\n")


def test_pages_that_are_damaged(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[4096:] = bytes(len(data) - 4096)
    path.write_bytes(data)
    assert refusal(path) == f"refs.sqlite: the catalogue is damaged (database disk image is malformed)\n{AGAIN}"


def test_rows_that_do_not_fit(path: Path) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE shape SET degrees = x'00112233445566778899aabbccddeeff' WHERE id = 9")
    connection.close()
    what = "the catalogue is damaged (the counts of a shape do not fit its coordinates)"
    assert refusal(path) == f"refs.sqlite: {what}\n{AGAIN}"


def test_columns_that_break_off(path: Path) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE shape SET degrees = x'0011' WHERE id = 9")
    connection.close()
    assert refusal(path) == f"refs.sqlite: the catalogue is damaged (a column of a shape breaks off)\n{AGAIN}"


def test_none(tmp_path: Path) -> None:
    assert refusal(tmp_path / "none.sqlite") == (
        "refs.sqlite: there is no such catalogue\n"
        "Build one: `afield catalogue build FILES... -o refs.sqlite`; or name another with --catalogue."
    )


def test_a_folder(tmp_path: Path) -> None:
    assert refusal(tmp_path) == "refs.sqlite: this is a folder\nName the catalogue in it."


def test_a_name_with_marks_of_an_address(made: Made, path: Path) -> None:
    odd = path.with_name("a?b#c%20.sqlite")
    path.rename(odd)
    with opened(odd, "odd") as connection:
        assert connection.execute("SELECT count(*) FROM reference").fetchone() == (60,)


SPOILT = {
    "UPDATE reference SET kind = 'ring'": "a reference is not described as it ought to be",
    "UPDATE reference SET name = x'00'": "a reference is not described as it ought to be",
    "UPDATE reference SET doubt_m = 'much'": "a reference is not described as it ought to be",
    "UPDATE layer SET edge_model = 'bent'": "a reference is not described as it ought to be",
    "UPDATE layer SET level = 99": "a layer is not described as it ought to be",
    "UPDATE layer SET map_accuracy_m = -5.0": "a layer is not described as it ought to be",
    "UPDATE layer SET source = 5.5": None,
    "UPDATE layer SET source = x'00'": "a layer is not described as it ought to be",
    "UPDATE layer SET notes = '[1]'": "the notes of a layer cannot be read",
    "UPDATE layer SET notes = '{'": "the notes of a layer cannot be read",
    "UPDATE shape SET rings = CAST(x'00000000' || rings AS BLOB)": "the counts of a shape do not fit its coordinates",
    "UPDATE shape SET degrees = CAST(zeroblob(length(degrees) - 8) || x'000000000000f87f' AS BLOB)": (
        "a shape has coordinates that are no places"
    ),
    "UPDATE shape SET degrees = 'text'": "a column of a shape breaks off",
    "DROP TABLE layer": "no such table: layer",
}


@pytest.mark.parametrize(("change", "what"), SPOILT.items(), ids=SPOILT)
def test_what_no_build_writes_is_refused(path: Path, change: str, what: str | None) -> None:
    with sqlite3.connect(path) as connection:
        connection.execute("DROP INDEX reference_name")
        connection.execute(change)
    connection.close()
    asked = Asked({}, PositionForm(39.9, -117.3, "lat/lon", (0.5, 0.5)))
    try:
        with opened(path, "refs.sqlite") as connection:
            found = findings(connection, "refs.sqlite", asked, 5000.0, None)
    except CatalogueError as error:
        assert str(error) == f"refs.sqlite: the catalogue is damaged ({what})\n{AGAIN}"
    else:
        assert what is None and found["layers"][0]["source"] == "5.5"


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(changes=st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=40))
@example(changes=[(0.078125, 128)])  # a word of the tables' own description, which is no longer UTF-8
def test_whatever_byte_is_wrong_it_answers_or_refuses(path: Path, changes: list[tuple[float, int]]) -> None:
    whole = path.read_bytes()
    data = bytearray(whole)
    for share, value in changes:
        data[int(share * (len(data) - 1))] = value
    spoilt = path.with_name("spoilt.sqlite")
    spoilt.write_bytes(data)
    asked = Asked({}, PositionForm(39.9, -117.3, "lat/lon", (0.5, 0.5)))
    try:
        with opened(spoilt, "spoilt.sqlite") as connection:
            text = near_text(findings(connection, "spoilt.sqlite", asked, 5000.0, 25.0))
    except CatalogueError as error:
        assert error.file == "spoilt.sqlite" and error.advice
    else:
        assert text.startswith("39.90000, -117.30000")
