"""Packs in zip files, and packs pinned to a version."""

from __future__ import annotations

import io
import json
import os
import stat
import zipfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import InputError
from afield.core.packs import zipped
from afield.core.packs.finding import NoSuchPack, pack_folder, pack_hash
from afield.core.packs.loading import load_pack
from afield.core.packs.zipped import UnfitZip, unzipped

GAP = {"id": "gap", "require": {"fact": "wall.gap", "at_least": {"limit": "gap"}}}
FLOOR = {"id": "floor", "for_each": "claim", "require": {"fact": "room.floor", "at_most": {"limit": "floor"}}}
FLOORS = {"floor": [{"from": "2024-01-01", "value": "3"}]}
ROOM = {"id": "attic", "title": "Attic", "from": "2024-01-01", "floor": 2}


def zip_of(path: Path, contents: dict[str, str | bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in contents.items():
            archive.writestr(name, content)
    return path


def files_of(pack: Path, within: str) -> dict[str, str | bytes]:
    return {f"{within}{file.relative_to(pack).as_posix()}": file.read_bytes() for file in sorted(pack.rglob("*.*"))}


def zipped_pack(pack: Path, path: Path, within: str | None = None) -> Path:
    """The pack's folder as a zip file; the folder is taken away."""
    zip_of(path, files_of(pack, f"{pack.name}/" if within is None else within))
    for file in pack.iterdir():
        file.unlink()
    pack.rmdir()
    return path


def packed(house: Any, limit: dict[str, Any], version: str = "1.0.0", file: str = "tidy.zip", **more: Any) -> Path:
    pack = house.pack(GAP, limits=limit, version=version, **more)
    return zipped_pack(pack, house.folder / file, more.get("within"))


WALL = {"wall": {"height": "3 m"}, "ladder": {"length": "2 m"}}


@pytest.mark.parametrize("name", ["./tidy.zip", "tidy.zip", "tidy"])
def test_a_pack_in_a_zip_file_judges_like_its_folder(house: Any, gap_limit: Any, name: str) -> None:
    house.pack(GAP, limits=gap_limit)
    folder = house.report(packs=["tidy"], **WALL)
    packed(house, gap_limit)
    report = house.report(packs=[name], **WALL)
    assert report["verdicts"] == folder["verdicts"] != []
    assert report["run"]["packs"] == folder["run"]["packs"]
    assert str(house.folder) not in json.dumps(report) and "/tmp" not in json.dumps(report["verdicts"])


def test_files_that_lie_in_no_folder_are_a_pack_too(house: Any, gap_limit: Any) -> None:
    pack = house.pack(GAP, limits=gap_limit)
    zipped_pack(pack, house.folder / "from-the-club.zip", "")
    assert house.told(packs=["./from-the-club.zip"], **WALL) == [("tidy/gap", "trip", "passed")]


def test_what_desktops_add_is_no_part_of_the_pack(house: Any, gap_limit: Any) -> None:
    pack = house.pack(GAP, limits=gap_limit)
    same = pack_hash(pack)
    contents = files_of(pack, "tidy/")
    path = zip_of(house.folder / "a.zip", {**contents, "__MACOSX/tidy/._pack.yaml": "x", "tidy/.DS_Store": "x"})
    assert pack_hash(unzipped(path, "a.zip")) == same


def test_a_program_in_a_zip_file_comes_with_its_claims(house: Any) -> None:
    pack = house.pack(
        FLOOR, name="rooms", judges="program", limits=FLOORS, references=[{**ROOM, "source": house.SOURCE}]
    )
    zipped_pack(pack, house.folder / "rooms.zip")
    claims = [{"program": "rooms", "reference": "attic"}]
    assert house.told(packs=[], claims=claims) == [("rooms/floor", "claim:rooms/attic", "passed")]


def test_a_base_comes_in_the_same_zip_file(house: Any, gap_limit: Any) -> None:
    base = house.pack(GAP, name="base", limits=gap_limit)
    club = house.pack(
        name="club", extends="base", needs=[], limits={"gap": [{"from": "2024-01-01", "value": "2", "unit": "m"}]}
    )
    zip_of(house.folder / "club.zip", {**files_of(base, "base/"), **files_of(club, "club/")})
    loaded = load_pack(pack_folder("./club.zip", house.folder), house.engine.registry)
    assert (str(loaded.name), str(loaded.base and loaded.base.name)) == ("club 1.0.0", "base 1.0.0")


def test_a_base_may_be_a_zip_file(house: Any, gap_limit: Any) -> None:
    base = house.pack(GAP, name="base", limits=gap_limit)
    club = house.pack(name="club", extends="./base.zip", needs=[])
    zipped_pack(base, club / "base.zip")
    loaded = load_pack(club, house.engine.registry)
    assert [rule.key for rule in loaded.rules] == ["club/gap"]


def test_it_is_unpacked_once_and_anew_when_it_has_changed(house: Any, gap_limit: Any) -> None:
    path = packed(house, gap_limit)
    first = unzipped(path, "tidy.zip")
    assert unzipped(path, "tidy.zip") == first
    packed(house, gap_limit, version="1.0.1")
    os.utime(path, ns=(1, 1))
    assert unzipped(path, "tidy.zip") != first


def entry(name: str, mode: int = stat.S_IFREG | 0o644) -> zipfile.ZipInfo:
    made = zipfile.ZipInfo("x")
    made.filename = made.orig_filename = name
    made.external_attr = mode << 16
    return made


@pytest.mark.parametrize(
    ("made", "fault"),
    [
        (entry("../pack.yaml"), '"../pack.yaml", which leads out of the pack'),
        (entry("tidy/../../pack.yaml"), '"tidy/../../pack.yaml", which leads out of the pack'),
        (entry("tidy//pack.yaml"), '"tidy//pack.yaml", which leads out of the pack'),
        (entry("./pack.yaml"), '"./pack.yaml", which leads out of the pack'),
        (entry("/etc/pack.yaml"), '"/etc/pack.yaml", which is an absolute path'),
        (entry("C:/pack.yaml"), '"C:/pack.yaml", which is an absolute path'),
        (entry("tidy\\pack.yaml"), '"tidy\\pack.yaml", whose name has \\ between folders where / is due'),
        (entry("tidy/a\x1b[2J"), '"tidy/a�[2J", whose name is no file name'),
        (entry("a" * 201), f'"{"a" * 200}", whose name is no file name'),
        (entry("tidy/x", stat.S_IFLNK | 0o777), '"tidy/x", a symbolic link; a pack holds its own files'),
        (entry("tidy/x", stat.S_IFIFO), '"tidy/x", which is no plain file'),
        (entry("TIDY/pack.yaml"), '"TIDY/pack.yaml" twice'),
    ],
)
def test_what_leads_out_or_is_no_file_is_refused(made: zipfile.ZipInfo, fault: str, tmp_path: Path) -> None:
    path = tmp_path / "club.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("tidy/pack.yaml", "id: tidy")
        archive.writestr(made, "../../target")
    with pytest.raises(UnfitZip) as refused:
        unzipped(path, "club.zip")
    assert refused.value.what == f"club.zip holds {fault}"
    assert refused.value.advice == "Zip the pack's folder again, or ask its publisher for it."
    assert sorted(file.name for file in tmp_path.iterdir()) == ["club.zip"]


@pytest.mark.parametrize(
    ("contents", "what", "advice"),
    [
        ({"a/b/pack.yaml": "id: b"}, "x.zip holds no pack", "Zip the folder that holds the pack.yaml."),
        ({}, "x.zip holds no pack", "Zip the folder that holds the pack.yaml."),
        (
            {"a/pack.yaml": "id: a", "b/pack.yaml": "id: b"},
            'x.zip holds several packs: "a", "b"',
            "Zip one of them, or give the zip file the name of the one that is meant.",
        ),
    ],
)
def test_a_zip_file_holds_one_pack(contents: dict[str, str | bytes], what: str, advice: str, tmp_path: Path) -> None:
    with pytest.raises(NoSuchPack) as refused:
        pack_folder(str(zip_of(tmp_path / "x.zip", contents).name), tmp_path)
    assert (refused.value.what, refused.value.advice) == (what, advice)


def test_a_bomb_is_not_unpacked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(zipped, "MOST_UNPACKED", 3 * zipped.MEBIBYTE)
    path = zip_of(tmp_path / "x.zip", {f"tidy/{number}": bytes(zipped.MEBIBYTE) for number in range(4)})
    assert path.stat().st_size < 10_000
    with pytest.raises(UnfitZip, match=r"^x\.zip unpacks to more than 3 MiB: "):
        unzipped(path, "x.zip")


def test_too_many_files_and_too_large_a_file_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = zip_of(tmp_path / "x.zip", {f"tidy/{number}": "" for number in range(1001)})
    with pytest.raises(UnfitZip, match=r"^x\.zip holds more than 1000 files: "):
        unzipped(path, "x.zip")
    monkeypatch.setattr(zipped, "MOST_ZIPPED", 0)
    with pytest.raises(UnfitZip, match=r"^x\.zip is larger than 0 MiB: "):
        unzipped(path, "x.zip")


def test_a_size_that_the_zip_file_states_falsely_is_not_relied_on(tmp_path: Path) -> None:
    path = zip_of(tmp_path / "x.zip", {"tidy/pack.yaml": b"a" * 1000})
    content = path.read_bytes().replace((1000).to_bytes(4, "little"), (10).to_bytes(4, "little"))
    path.write_bytes(content)
    with pytest.raises(UnfitZip, match=r'^"tidy/pack\.yaml" in x\.zip cannot be unpacked: '):
        unzipped(path, "x.zip")


@given(data=st.data())
def test_a_damaged_zip_file_never_crashes(data: st.DataObject, tmp_path_factory: pytest.TempPathFactory) -> None:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("tidy/pack.yaml", "id: tidy\n" * 20)
    content = bytearray(buffer.getvalue())
    for _ in range(data.draw(st.integers(1, 4))):
        content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    path = tmp_path_factory.mktemp("damaged") / "tidy.zip"
    path.write_bytes(content)
    try:
        folder = unzipped(path, "tidy.zip")
    except UnfitZip:
        return
    assert (folder / "pack.yaml").read_bytes() == b"id: tidy\n" * 20


def test_a_zip_file_of_nearly_that_name_is_meant(house: Any, gap_limit: Any) -> None:
    packed(house, gap_limit)
    with pytest.raises(NoSuchPack, match='Did you mean "tidy"'):
        pack_folder("tydy", house.folder)


def refusal(house: Any, **plan: Any) -> str:
    with pytest.raises(InputError) as refused:
        house.load(**plan)
    return str(refused.value.problems[0].text()).replace(str(house.folder), "")


def test_a_pinned_version_is_found_beside_another(house: Any, gap_limit: Any) -> None:
    packed(house, gap_limit, version="1.0.0", file="tidy-old.zip")
    packed(house, gap_limit, version="1.1.0", file="tidy-1.1.0.zip")
    house.pack(GAP, limits=gap_limit, version="2.0.0")
    (house.folder / "tidy-photographs.zip").write_bytes(b"no zip file")
    for version in ("1.0.0", "1.1.0", "2.0.0"):
        report = house.report(packs=[{"pack": "tidy", "version": version}], **WALL)
        assert [pack["version"] for pack in report["run"]["packs"]] == [version]
    assert house.report(packs=["tidy"], **WALL)["run"]["packs"][0]["version"] == "2.0.0"


def test_a_pin_that_does_not_fit_says_what_is_there(house: Any, gap_limit: Any) -> None:
    packed(house, gap_limit, version="1.1.0", file="tidy-1.1.0.zip")
    house.pack(GAP, limits=gap_limit, version="2.0.0")
    assert refusal(house, packs=[{"pack": "tidy", "version": "1.2.0"}]) == (
        "plan.yaml:5:3: there is no tidy of version 1.2.0\n"
        "    |   {\n"
        "    = There is 2.0.0 (the folder tidy) and 1.1.0 (tidy-1.1.0.zip): write one of these, or put the pack of that"
        " version beside the plan."
    )
    assert "there is no pack tudy\n" in refusal(house, packs=[{"pack": "tudy", "version": "1.2.0"}])


def test_a_pinned_path_must_hold_that_version(house: Any, gap_limit: Any) -> None:
    packed(house, gap_limit, version="1.1.0")
    assert house.load(packs=[{"pack": "./tidy.zip", "version": "1.1.0"}]).packs[0].version == "1.1.0"
    assert "there is no ./tidy.zip of version 1.2.0\n" in refusal(
        house, packs=[{"pack": "./tidy.zip", "version": "1.2.0"}]
    )


def test_a_program_is_pinned_in_the_list_of_packs(house: Any) -> None:
    room, claims = {**ROOM, "source": house.SOURCE}, [{"program": "rooms", "reference": "attic"}]
    old = {"name": "rooms", "judges": "program", "references": [room]}
    zipped_pack(house.pack(FLOOR, version="1.0.0", limits=FLOORS, **old), house.folder / "rooms-1.zip")
    house.pack(FLOOR, version="2.0.0", limits={"floor": [{"from": "2024-01-01", "value": "1"}]}, **old)
    pin = [{"pack": "rooms", "version": "1.0.0"}]
    assert house.told(packs=[], claims=claims) == [("rooms/floor", "claim:rooms/attic", "failed")]
    assert house.told(packs=pin, claims=claims) == [("rooms/floor", "claim:rooms/attic", "passed")]
    assert "rooms is named twice\n    |" in refusal(house, packs=[*pin, {"pack": "rooms", "version": "2.0.0"}])


def test_a_program_may_be_named_by_the_path_of_its_pack(house: Any) -> None:
    room, claims = {**ROOM, "source": house.SOURCE}, [{"program": "rooms", "reference": "attic"}]
    made = house.pack(FLOOR, name="rooms", judges="program", limits=FLOORS, references=[room])
    (house.folder / "elsewhere").mkdir()
    made.rename(house.folder / "elsewhere" / "rooms")
    assert "there is no pack rooms\n" in refusal(house, packs=[], claims=claims)
    assert house.told(packs=["elsewhere/rooms"], claims=claims) == [("rooms/floor", "claim:rooms/attic", "passed")]


def test_a_pinned_program_of_which_nothing_is_claimed_is_an_error(house: Any, gap_limit: Any) -> None:
    house.pack(FLOOR, name="rooms", judges="program", limits=FLOORS)
    house.pack(GAP, limits=gap_limit)
    said = refusal(house, packs=["tidy", {"pack": "rooms", "version": "1.0.0"}])
    assert said.endswith(
        "rooms judges a program, and the plan claims nothing of it\n    |   {\n"
        "    = Claim a reference of it under `claims:`, or leave it out here."
    )


def test_a_pack_listed_pinned_and_unpinned_is_refused(house: Any, gap_limit: Any) -> None:
    house.pack(GAP, limits=gap_limit)
    said = refusal(house, packs=["tidy", {"pack": "tidy", "version": "1.0.0"}])
    assert "the pack tidy is there already, under another name\n" in said


@pytest.mark.parametrize("version", ["1.2", 1.2, "newest"])
def test_a_pin_is_a_whole_version(house: Any, version: Any) -> None:
    assert "version" in refusal(house, packs=[{"pack": "tidy", "version": version}])
