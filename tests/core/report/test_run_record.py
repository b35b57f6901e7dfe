"""The footer of a report: versions of all that it was made with."""

from importlib.metadata import version

from afield.core.report.run_record import library_versions


def test_libraries_are_those_that_the_distributions_need() -> None:
    found = library_versions(["afield"])
    assert found["jsonschema"] == version("jsonschema")
    assert found["shapely"] == version("shapely")
    assert list(found) == sorted(found)


def test_what_is_for_tests_only_is_left_out() -> None:
    assert not {"pytest", "hypothesis", "geographiclib"} & library_versions(["afield"]).keys()


def test_a_plugin_registered_by_hand_has_no_distribution() -> None:
    assert library_versions(["no such distribution"]) == library_versions(["afield"])
