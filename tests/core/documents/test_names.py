from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import OutsideFolder, did_you_mean, inside_folder, quoted_list


@pytest.mark.parametrize(
    ("word", "meant"),
    [("heigth", "height"), ("on-air", "on_air"), ("TRIP", "trip"), ("zzz", None), ("", None)],
)
def test_guesses_what_was_meant(word: str, meant: str | None) -> None:
    assert did_you_mean(word, ["height", "on_air", "trip"]) == meant


def test_lists_of_words_are_cut() -> None:
    assert quoted_list(["a", "b"]) == '"a", "b"'
    assert quoted_list("abcd", at_most=2) == '"a", "b", and 2 more'


def test_a_file_inside_is_found(tmp_path: Path) -> None:
    assert inside_folder(tmp_path, "kit/a.yaml") == tmp_path.resolve() / "kit" / "a.yaml"
    assert inside_folder(tmp_path, "a..b") == tmp_path.resolve() / "a..b"


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("", '"" is no file name'),
        ("a\0b", '"a�b" is no file name'),
        ("/etc/x", '"/etc/x" is an absolute path'),
        ("C:\\x", '"C:\\x" is an absolute path'),
        ("\\\\host\\x", '"\\\\host\\x" is an absolute path'),
        ("../x", '"../x" climbs out of its folder with ".."'),
        ("a\\..\\..\\x", '"a\\..\\..\\x" climbs out of its folder with ".."'),
        ("out/x", '"out/x" leads out of its folder by a symbolic link'),
    ],
)
def test_a_name_that_leads_out_is_refused(tmp_path: Path, name: str, what: str) -> None:
    folder = tmp_path / "pack"
    folder.mkdir()
    (folder / "out").symlink_to(tmp_path)
    with pytest.raises(OutsideFolder) as caught:
        inside_folder(folder, name)
    assert str(caught.value) == f"{what}. Name a file inside the folder, with / between folders."
    assert caught.value.what == what


@given(st.text(st.sampled_from("a./\\:~"), max_size=12))
def test_no_name_leads_out(name: str) -> None:
    folder = Path(__file__).parent
    try:
        assert inside_folder(folder, name).is_relative_to(folder.resolve())
    except OutsideFolder as error:
        assert error.what and error.advice
