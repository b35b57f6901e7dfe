"""Kit lists as CSV."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from afield.core.documents import InputError
from afield.plugins.kit.csv_lists import BadRow, cells_of

LIST = """\
name,is,class,mass,price,bag,spare of
radio,hf-radio-10-w,,1.05 kg,240,"case, blue",
tent,,shelter,2 kg,,,
second tent,,shelter,2 kg,,,tent
"""


def test_a_list_is_read_as_a_kit_file_is(bag: Any) -> None:
    bag.file("kit.csv", LIST)
    kit = bag.read(kit="[kit.csv]")
    radio, tent, second = kit.items.values()
    assert (radio.data["mass"], radio.data["price"], radio.data["bag"]) == ("1.05 kg", "240", "case, blue")
    assert radio.ports is not None
    assert (tent.class_, tent.ports, second.spare_of) == ("shelter", None, "tent")
    assert str(second.origin.place("spare_of")) == "kit.csv:4:29"


def test_semicolons_a_mark_of_byte_order_and_other_line_ends_are_read(bag: Any) -> None:
    path = bag.file("kit.csv", "")
    path.write_bytes("\ufeffName;Mass\r\ntent, large;2 kg\r\n\r\n".encode())
    (item,) = bag.read(kit="[kit.csv]").items.values()
    assert (item.name, item.data["mass"]) == ("tent, large", "2 kg")


BAD = {
    "name,mass\nrope\n": """\
kit.csv:2:1: the row has 1 cell; the list has 2 columns
    | rope
    = Write every cell, an empty one too; put a cell with a , in quotes.""",
    "name,mass\nrope,1 kg,blue\n": """\
kit.csv:2:11: the row has 3 cells; the list has 2 columns
    | rope,1 kg,blue
    = Write every cell, an empty one too; put a cell with a , in quotes.""",
    "name,mass\n,1 kg\n": """\
kit.csv:2:1: the row has no name
    | ,1 kg
    = Name the item.""",
    "name,mass\nrope,450\n": """\
kit.csv:2:6: 450 is a bare number: write its unit, for example "450 kg"
    | rope,450
    = A mass is written in kg, g, lb or oz.""",
    "name,mass\nrope,-1 kg\n": """\
kit.csv:2:6: mass of the item -1 kg is less than 0 kg
    | rope,-1 kg
    = Write 0 kg or more.""",
    'name,mass\n"rope,1 kg\n': """\
kit.csv:2:1: the quote that opens here is not closed on this line
    | "rope,1 kg
    = Close it with ".""",
    'name,mass\n"rope" blue,1 kg\n': """\
kit.csv:2:8: something follows the closing quote
    | "rope" blue,1 kg
    = Write , there, or double the quotes inside: "".""",
    "name,mas\nrope,1 kg\n": """\
kit.csv:1:6: "mas" is no column of a kit list
    | name,mas
    = Did you mean "mass"?""",
    "name,name\nrope,1 kg\n": """\
kit.csv:1:6: the column name stands there twice
    | name,name
    = Remove one of the two.""",
    "class,mass\nline,1 kg\n": """\
kit.csv:1:1: the list has no column "name"
    | class,mass
    = Begin with a row of column names, such as name,is,class,mass,price,bag,spare_of.""",
    "\n": """\
kit.csv: nothing is written here
    = Begin with a row of column names, such as name,is,class,mass,price,bag,spare_of.""",
    "name,mass\n": """\
kit.csv: the list has no rows
    = Begin with a row of column names, such as name,is,class,mass,price,bag,spare_of.""",
    "name,class\nrope,lne\n": """\
kit.csv:2:6: "lne" is not a choice for class of the item
    | rope,lne
    = Did you mean "line"? Choices: "shelter", "furniture", "safety gear", "mast", "line", "antenna", \
"counterpoise", "ground", "feed line", "filter", "switch", "meter", and 25 more.""",
}


@pytest.mark.parametrize("text", BAD)
def test_a_bad_row_is_pointed_at(text: str, bag: Any) -> None:
    bag.file("kit.csv", text)
    with pytest.raises(InputError) as refused:
        bag.read(kit="[kit.csv]")
    assert refused.value.text(verbose=True) == BAD[text]


def test_every_bad_row_is_listed(bag: Any) -> None:
    bag.file("kit.csv", 'name,mass\nrope\n"tent,\nline,1 kg,\n')
    with pytest.raises(InputError) as refused:
        bag.read(kit="[kit.csv]")
    assert [str(problem.place) for problem in refused.value.problems] == ["kit.csv:2:1", "kit.csv:3:1", "kit.csv:4:11"]


def test_a_list_in_another_coding_is_refused(bag: Any) -> None:
    bag.file("kit.csv", "").write_bytes("name\nrope\nK\xfcche\n".encode("latin-1"))
    with pytest.raises(InputError) as refused:
        bag.read(kit="[kit.csv]")
    assert str(refused.value) == "kit.csv:3:1: line 3 is not UTF-8: byte 0xfc\n    = Save the list as CSV in UTF-8."


def test_a_list_that_is_too_large_is_refused(bag: Any) -> None:
    bag.file("kit.csv", "name\n" + "x" * (1 << 20))
    with pytest.raises(InputError) as refused:
        bag.read(kit="[kit.csv]")
    assert str(refused.value) == "kit.csv: the file is larger than 1 MiB\n    = Split the list."


TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=12)


@given(st.lists(TEXTS, min_size=1, max_size=6))
def test_quoted_cells_come_back(texts: list[str]) -> None:
    row = ",".join('"' + text.replace('"', '""') + '"' for text in texts)
    assert [text for text, _ in cells_of(row)] == [text.strip() for text in texts]


@given(st.text(st.sampled_from('ab ",;'), max_size=12))
def test_any_row_is_cut_or_refused_within_it(row: str) -> None:
    try:
        cells = cells_of(row)
    except BadRow as bad:
        assert 1 <= bad.column <= len(row)
    else:
        assert [column for _, column in cells] == sorted(column for _, column in cells)
