"""A file is YAML 1.2 as plain text; what could harm or mislead is refused by line."""

import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.files.reading import LARGEST, Unreadable, read_text
from coursekit.files.scenario_file import read_scenario, read_scenario_text
from coursekit.files.yaml_tree import parse_yaml
from tests.shell.files.ford import FILE, FORD, problems_of, problems_raised


def _shown(text: str) -> list[str]:
    return [str(problem) for problem in problems_of(text)]


@pytest.mark.parametrize("text", ["", "   \n", "# only a comment\n", "---\n", "~"])
def test_an_empty_file_is_called_empty(text: str) -> None:
    assert _shown(text) == [f"{FILE}:1: file: It is empty. Write the file by its format."]


def test_a_file_that_is_no_yaml_names_the_line() -> None:
    with pytest.raises(Unreadable) as caught:
        read_scenario_text("format: 1\ntitle: a: b\n", FILE)

    assert str(caught.value).startswith(f"{FILE}:2: file: It is not YAML: mapping values")


def test_a_control_character_names_its_line() -> None:
    with pytest.raises(Unreadable) as caught:
        read_scenario_text("format: 1\nid: a\x07b\n", FILE)

    assert str(caught.value).startswith(f"{FILE}:2: file: It is not YAML: it holds a character")


@pytest.mark.parametrize("opening", ["[", "{a: ", "- ", "- - - - "])
def test_a_megabyte_of_nesting_is_refused_at_once(opening: str) -> None:
    start = time.monotonic()
    found = _shown(opening * (1_000_000 // len(opening)))

    assert time.monotonic() - start < 5.0
    assert "It is nested more than 20 levels deep" in found[0]


def test_a_megabyte_on_disk_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / FILE
    path.write_text("[" * 1_000_000, "utf-8")

    with pytest.raises(Unreadable, match="larger than 256 kB"):
        read_scenario(path)


def test_the_largest_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / FILE
    path.write_text(FORD + "#" * (LARGEST - len(FORD)), "utf-8")

    assert read_scenario(path).id == "ford-exit"


@pytest.mark.parametrize(
    "text",
    [
        "a: !!python/object/apply:os.system [ls]\n",
        "a: !!int 3\n",
        "a: !own 3\n",
        "!!map {a: 3}\n",
    ],
)
def test_a_tag_is_refused(text: str) -> None:
    assert any("is a tag. Take it out" in problem for problem in _shown(text))


def test_anchors_that_multiply_are_refused_each_and_never_multiplied() -> None:
    text = 'a: &a ["x", "x"]\n' + "".join(
        f"{new}: &{new} [*{old}, *{old}]\n" for old, new in zip("abcdefgh", "bcdefghi", strict=True)
    )
    found = _shown(text)

    assert sum("is an anchor" in problem for problem in found) == 9
    assert sum("repeats another part" in problem for problem in found) == 16
    assert f"{FILE}:2: b.0: *a repeats another part of the file. Write that part out here." in found


def test_a_key_that_stands_twice_names_both_lines() -> None:
    text = FORD.replace("  exit: 90 deg\n", "  exit: 90 deg\n  mass: 2700 kg\n")

    assert _shown(text) == [
        f"{FILE}:14: stuck_vehicle.mass: mass stands twice, here and on line 11. Keep one of them."
    ]


def test_gear_that_stands_twice_is_reported_beside_other_problems() -> None:
    text = FORD.replace("  line-2:", "  sling-1:", 1).replace("2650 kg", "2650 kN")
    fields = [problem.where.field for problem in problems_of(text)]

    assert fields[:2] == ["stuck_vehicle.mass", "gear.sling-1"]


def test_a_second_document_is_refused() -> None:
    assert "A second document begins here" in _shown(FORD + "---\n" + FORD)[0]


def test_a_key_that_is_a_list_is_refused() -> None:
    assert "A key is not plain text" in _shown("? [a, b]\n: 3\n")[0]


def test_words_that_look_like_other_types_stay_text() -> None:
    assert parse_yaml(
        "a: no\nb: 0.70\nc: 2024-05-31\nd: 0x1F\ne: 1e3\nf: '~'\ng: ~\n", "x"
    ).data == {
        "a": "no",
        "b": "0.70",
        "c": "2024-05-31",
        "d": "0x1F",
        "e": "1e3",
        "f": "~",
        "g": None,
    }


def test_a_binary_file_is_no_scenario(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_bytes(b"\x89PNG\r\n\x1a\n\x00\x00")

    with pytest.raises(Unreadable, match="binary"):
        read_scenario(tmp_path / "a.yaml")


def test_a_file_in_another_encoding_names_the_line(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes("format: 1\ntitle: Gräben\n".encode("latin-1"))

    with pytest.raises(Unreadable) as caught:
        read_scenario(path)

    assert str(caught.value) == (
        f"{path}:2: file: It is not UTF-8 text. Save it as UTF-8 in your editor."
    )


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    path = tmp_path / FILE
    path.write_bytes(b"\xef\xbb\xbf" + FORD.encode())

    assert read_scenario(path).id == "ford-exit"


@pytest.mark.parametrize("name", ["missing.yaml", ".", "a/b/c.yaml", "nul\x00byte"])
def test_a_file_that_is_not_there_is_named(tmp_path: Path, name: str) -> None:
    with pytest.raises(Unreadable, match="It can't be read"):
        read_text(tmp_path / name)


@given(st.text())
@settings(max_examples=150)
def test_any_text_is_a_scenario_or_problems(text: str) -> None:
    assert all(problem.where.file == FILE for problem in problems_of(text))


@given(st.text(st.sampled_from("ab:-[]{}&*!|>'\"#%@,? \n\t~0.7"), max_size=60))
@settings(max_examples=250)
def test_any_text_of_yaml_signs_is_data_or_problems(text: str) -> None:
    assert all(problem.where.line for problem in problems_raised(lambda: parse_yaml(text, FILE)))


@given(st.integers(0, len(FORD) - 1), st.text(max_size=3), st.integers(0, 30))
@settings(max_examples=60)
def test_a_scenario_with_a_piece_replaced_is_one_still_or_problems(
    at: int, piece: str, length: int
) -> None:
    text = FORD[:at] + piece + FORD[at + length :]

    assert all(problem.where.line for problem in problems_of(text))
