"""The footer of a report: versions of all that it was made with."""

from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from afield.core.documents import read_text
from afield.core.facts.subjects import Origin, Piece, Subject
from afield.core.report.run_record import _beside, _files_json, library_versions


def test_libraries_are_those_that_the_distributions_need() -> None:
    found = library_versions(["afield"])
    assert found["jsonschema"] == version("jsonschema")
    assert found["shapely"] == version("shapely")
    assert list(found) == sorted(found)


def test_what_is_for_tests_only_is_left_out() -> None:
    assert not {"pytest", "hypothesis", "geographiclib"} & library_versions(["afield"]).keys()


def test_a_plugin_registered_by_hand_has_no_distribution() -> None:
    assert library_versions(["no such distribution"]) == library_versions(["afield"])


def test_files_that_the_plan_names_are_listed_once_the_plan_and_the_packs_not_among_them() -> None:
    plan, kit, pack = (read_text("a: 1", name) for name in ("trip.yaml", "kit/low.yaml", "pack:gear/rules.yaml"))
    subjects = {
        key: Subject(key, "item", key, origin=Origin(document, (), Path()), extra=extra)
        for key, document, extra in (
            ("trip", plan, {}), ("item:a", kit, {}), ("item:b", kit, {"entry": Origin(pack, ())}),
        )
    }  # fmt: skip
    subjects["utc_day"] = Subject("utc_day", "utc_day", "no origin")
    packs = [SimpleNamespace(lineage=lambda: [SimpleNamespace(documents={"rules": pack})])]
    trip: Any = SimpleNamespace(document=plan, subjects=subjects, packs=packs)
    assert _beside(trip) == [kit]


def test_files_that_facts_were_found_from_are_listed_with_their_hashes(tmp_path: Path) -> None:
    (tmp_path / "june.adi").write_bytes(b"a log")
    plan = read_text("logs: [june.adi, gone.adi, trip.yaml]", "trip.yaml")
    piece = Piece(plan.data["logs"], Origin(plan, ("logs",), tmp_path))
    assert [piece.file(index).name for index in (0, 1, 0)] == ["june.adi", "gone.adi", "june.adi"]
    trip: Any = SimpleNamespace(document=plan, subjects={}, packs=[])
    assert _files_json(trip) == [{"file": "june.adi", "sha256": sha256(b"a log").hexdigest()}]


def test_a_file_of_a_pack_is_not_listed_twice(tmp_path: Path) -> None:
    (tmp_path / "map.geojson").write_bytes(b"{}")
    pack = read_text("file: map.geojson", "pack:gear/references.yaml")
    assert Piece(pack.data, Origin(pack, (), tmp_path, closed=True)).file("file") == tmp_path / "map.geojson"
    assert pack.opened == {}
