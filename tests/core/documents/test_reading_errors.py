"""Every message of reading, whole."""

from pathlib import Path

import pytest

from afield.core.documents import InputError, Limits, read_document, read_text

BOMB = "a: &a [1,1,1,1,1,1,1,1,1]\n" + "".join(
    f"{name}: &{name} [{','.join([f'*{before}'] * 9)}]\n" for before, name in zip("abcdef", "bcdefg", strict=True)
)
CASES = [
    ("a: 1\na: 2\n", 'p:2:1: the key "a" is written twice, first on line 1', "a: 2", "Keep one of the two."),
    ("<<: 3\n", 'p:1:1: the merge key "<<" is not part of YAML 1.2', "<<: 3", "Write the values out."),
    ("1: x\n", 'p:1:1: the key "1" is a number, not a text', "1: x", 'Write it in quotes: "1".'),
    ("true: x\n", 'p:1:1: the key "true" is true or false, not a text', "true: x", 'Write it in quotes: "true".'),
    (": x\n", 'p:1:1: the key "" is empty, not a text', ": x", 'Write it in quotes: "".'),
    (
        "? [a]\n: 1\n",
        "p:1:3: a key must be a text",
        "? [a]",
        'Write "key: value"; a value with ":" in it goes in quotes.',
    ),
    ("a:\n\tb: 1\n", "p:2:1: a tab stands where only spaces may", " b: 1", "Indent with spaces."),
    ("a: @x\n", 'p:1:4: a text cannot begin with "@"', "a: @x", "Put the text in quotes."),
    (
        "a: b: c\n",
        'p:1:5: a ":" stands where no key can be',
        "a: b: c",
        'Check the indentation and the line above; put a text with ": " in it in quotes.',
    ),
    (
        "a: 1\nb\n\nc: 2\n",
        'p:2:1: this is no "key: value" line',
        "b",
        'Write a ":" and a space after the key, or check the indentation.',
    ),
    (
        'a: "x" y\n',
        "p:1:8: text follows where the value has ended",
        'a: "x" y',
        "Put the whole text in one pair of quotes, or check the indentation.",
    ),
    (
        "a:\n  b: 1\n c: 2\n",
        "p:3:2: this does not line up with what stands above",
        " c: 2",
        "Give the keys of one mapping, and the dashes of one list, the same indentation.",
    ),
    (
        "a: [1, 2\nb: 3\n",
        'p:2:2: a "," or "]" is missing before this; the bracket was opened on line 1',
        "b: 3",
        "Close the bracket, or put a comma between two entries.",
    ),
    (
        "a: {b: 1\n",
        'p:1:4: a bracket is opened and not closed with "}"',
        "a: {b: 1",
        "Close the bracket.",
    ),
    ("a: 'x\nb: 3\n", "p:1:4: a quote is opened and not closed", "a: 'x", "Close it with the same kind of quote."),
    (
        'a: "\\q"\n',
        'p:1:6: "\\q" means nothing in double quotes',
        'a: "\\q"',
        "Write \\\\ for a backslash, or use single quotes.",
    ),
    (
        'a: "\\xzz"\n',
        "p:1:7: the digits after the backslash are not hexadecimal",
        'a: "\\xzz"',
        "Write \\\\ for a backslash, or use single quotes.",
    ),
    ("a: - b\n", 'p:1:4: a list\'s "-" cannot stand here', "a: - b", "Begin the list on the line below its key."),
    (
        "a: |1x\n b\n",
        "p:1:6: this cannot follow the | or > that begins a long text",
        "a: |1x",
        "Begin the long text on the next line, indented.",
    ),
    (
        'a: "\\U00110000"\n',
        "p:1:5: this escape stands for no character",
        'a: "\\U00110000"',
        "Write \\\\ for a backslash, or mend the number.",
    ),
    (
        "a: & b\n",
        'p:1:4: a text cannot begin with "*", "&" or "%"',
        "a: & b",
        "Put the text in quotes.",
    ),
    ("a: !<> x\n", 'p:1:4: a text cannot begin with "!"', "a: !<> x", "Put the text in quotes."),
    (
        "a: [1, , 2]\n",
        "p:1:8: a value is missing before this",
        "a: [1, , 2]",
        "Write it, or remove the comma or bracket too many.",
    ),
    (
        "{a: 1}\nb\n",
        "p:2:1: text follows where the document has ended",
        "b",
        "Remove it, or check the brackets and the indentation above.",
    ),
    (
        "%YAML 1.2\n%YAML 1.2\n---\na: b\n",
        "p:2:1: the %YAML line is not one of YAML 1.2",
        "%YAML 1.2",
        "Remove the line.",
    ),
    (
        "a: *very* much\n",
        "p:1:4: *very* has no anchor &very* before it",
        "a: *very* much",
        'Write the value out; a text that begins with "*" goes in quotes.',
    ),
    ("a: ? b\n", 'p:1:4: a "?" cannot stand here', "a: ? b", "Put the text in quotes, or check the indentation."),
    ("a: &x [*x]\n", "p:1:8: *x stands inside the value that it names", "a: &x [*x]", "Write the value out."),
    (
        "a: !new 1\n",
        "p:1:4: the tag !new is not allowed here",
        "a: !new 1",
        "Remove it: only plain values are read.",
    ),
    (
        "!!python/object:os.system {}\n",
        "p:1:1: the tag !!python/object:os.system is not allowed here",
        "!!python/object:os.system {}",
        "Remove it: only plain values are read.",
    ),
    (
        "a: !x!y 1\n",
        "p:1:4: a tag (!) is used that is not defined once",
        "a: !x!y 1",
        "Remove it: only plain values are read.",
    ),
    ("a: !!int x\n", 'p:1:4: "x" is not what its tag !!int says', "a: !!int x", "Remove !!int or mend the value."),
    (
        "a: .nan\n",
        "p:1:4: .nan is no finite number",
        "a: .nan",
        "Write a number of ordinary size, or put a text in quotes.",
    ),
    (
        "a: 1e999\n",
        "p:1:4: 1e999 is no finite number",
        "a: 1e999",
        "Write a number of ordinary size, or put a text in quotes.",
    ),
    (
        f"a: {'9' * 101}\n",
        "p:1:4: a number of 101 digits is too long",
        f"a: {'9' * 101}",
        "Write a number of ordinary size, or put a text in quotes.",
    ),
    (
        "%YAML 1.1\n---\na: yes\n",
        "p:1:1: %YAML 1.1 is asked for; YAML 1.2 is read",
        "%YAML 1.1",
        "Remove the %YAML line.",
    ),
    ("%YAML 2.0\n---\na: b\n", "p:1:1: the %YAML line is not one of YAML 1.2", "%YAML 2.0", "Remove the line."),
    (
        "a: 1\n---\nb: 2\n",
        "p:2:1: a second document begins here",
        "---",
        'Keep one document a file; remove the "---".',
    ),
    (
        "a: \x1b[0m\n",
        "p:1:4: the control character U+001B stands here",
        "a: �[0m",
        "Remove it; it cannot be seen in most editors.",
    ),
    (
        'a: "\\e[0m"\n',
        "p:1:4: the escape for the character U+001B is not allowed",
        'a: "\\e[0m"',
        "Remove it; the character cannot be seen.",
    ),
    (
        "[" * 50,
        "p:1:41: nested deeper than 40 levels",
        "[" * 50,
        "Write it with fewer levels.",
    ),
    (
        BOMB,
        "p:5:23: more than 50000 values, aliases expanded",
        "e: &e [*d,*d,*d,*d,*d,*d,*d,*d,*d]",
        "Write fewer values, or split the file; an alias (*name) counts as all that it stands for.",
    ),
    ("- a\n", "p:1:1: the file holds a list; keys and values are due", "- a", 'Begin with "key: value".'),
    ("5\n", "p:1:1: the file holds a single value; keys and values are due", "5", 'Begin with "key: value".'),
    ("null\n", "p:1:1: nothing is written here", "null", "Write at least one key and its value."),
    ("# only this\n", "p: nothing is written here", "", "Write at least one key and its value."),
]


@pytest.mark.parametrize(("text", "first", "source", "advice"), CASES, ids=[case[1] for case in CASES])
def test_says_where_what_and_what_to_do(text: str, first: str, source: str, advice: str) -> None:
    with pytest.raises(InputError) as caught:
        read_text(text, "p")
    line = [f"    | {source}"] if source else []
    assert str(caught.value) == "\n".join([first, *line, f"    = {advice}"])


def test_a_deep_alias_counts_its_depth() -> None:
    text = f"a: &a {'[' * 30}{']' * 30}\nb: {'[' * 15}*a{']' * 15}\n"
    with pytest.raises(InputError) as caught:
        read_text(text, "p")
    assert str(caught.value).startswith("p:2:19: nested deeper than 40 levels\n")


def test_all_problems_are_kept_the_first_is_shown() -> None:
    with pytest.raises(InputError) as caught:
        read_text("b: 1\nb: 2\n2: x\nb: 3\n", "p")
    first = 'p:2:1: the key "b" is written twice, first on line 1\n    | b: 2\n    = Keep one of the two.'
    assert str(caught.value) == f"{first}\nand 2 more problems"
    assert caught.value.text(verbose=True) == "\n".join(problem.text() for problem in caught.value.problems)
    assert [str(problem.place) for problem in caught.value.problems] == ["p:2:1", "p:3:1", "p:4:1"]


def file_error(path: Path, limits: Limits | None = None) -> str:
    with pytest.raises(InputError) as caught:
        read_document(path, "plan.yaml", limits or Limits())
    return str(caught.value)


def test_a_file_that_is_absent(tmp_path: Path) -> None:
    (tmp_path / "plan.yml").write_text("a: 1")
    assert file_error(tmp_path / "plan.yaml") == ('plan.yaml: there is no such file\n    = Did you mean "plan.yml"?')
    assert file_error(tmp_path / "qqqq") == ("plan.yaml: there is no such file\n    = Check the name and the folder.")
    assert file_error(tmp_path / "none" / "plan.yaml") == (
        "plan.yaml: there is no such file\n    = Check the name; its folder is not there either."
    )


def test_a_folder_and_a_name_that_cannot_be_one(tmp_path: Path) -> None:
    assert file_error(tmp_path) == "plan.yaml: this is a folder; a file is due\n    = Name a file in it."
    assert file_error(Path("a\0b")) == (
        "plan.yaml: the file cannot be read: embedded null byte\n    = Check its name and your rights to it."
    )


def test_a_file_that_is_too_large(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text("a: 12345678\n")
    assert file_error(path, Limits(size=8)) == (
        "plan.yaml: the file is larger than 8 bytes\n    = Split it, or move long data to a file of its own."
    )
    path.write_bytes(b"#" * (1 << 20) + b"\n")
    assert file_error(path) == (
        "plan.yaml: the file is larger than 1 MiB\n    = Split it, or move long data to a file of its own."
    )


def test_a_file_that_is_not_utf_8(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_bytes(b"a: 1\nb: \xe9t\xe9\n")
    assert file_error(path) == ("plan.yaml:2:4: byte 0xe9 is not UTF-8\n    | b: �t�\n    = Save the file as UTF-8.")
    path.write_bytes("a: 1\n".encode("utf-16"))
    assert file_error(path) == (
        "plan.yaml:1:1: byte 0xff is not UTF-8\n    | ��a�:� �1�\n    = Save the file as UTF-8."
    )
