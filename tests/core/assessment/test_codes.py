"""Codes of certificates: check sign as published, and what it finds."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.assessment.codes import ALPHABET, BITS, check_sign, code_of, grouped, read_code

codes = st.integers(0, 2**BITS - 1).map(code_of).filter(lambda code: code is not None)


@pytest.mark.source(
    "Global Release Identifier standard: A1-2425G-ABC1234002-M, check by ISO/IEC 7064 MOD 37,36 "
    "(from memory)"
)
def test_the_check_sign_is_that_of_a_published_identifier() -> None:
    assert check_sign("A12425GABC1234002") == "M"


@given(code=codes)
def test_a_code_reads_back_however_it_is_written(code: str) -> None:
    for written in (code, grouped(code), code.lower(), f" {grouped(code).replace('-', ' ')} "):
        assert read_code(written) == code


@given(code=codes)
def test_signs_that_look_alike_are_read_as_what_they_look_like(code: str) -> None:
    assert read_code(code.replace("0", "O").replace("1", "l")) == code


@given(code=codes, place=st.integers(0, 15), sign=st.sampled_from(ALPHABET))
def test_any_single_wrong_sign_is_found(code: str, place: int, sign: str) -> None:
    wrong = code[:place] + sign + code[place + 1 :]
    assert (read_code(wrong) == code) == (sign == code[place])


@pytest.mark.independent("every neighbouring pair of every sign tried out")
def test_few_swaps_of_neighbours_pass() -> None:
    swaps = [
        (code, code[:place] + code[place + 1] + code[place] + code[place + 2 :])
        for code in filter(None, map(code_of, range(0, 2**BITS, 2**BITS // 300)))
        for place in range(15)
    ]
    real = [wrong for code, wrong in swaps if wrong != code]
    assert sum(1 for wrong in real if read_code(wrong)) < len(real) / 50


@pytest.mark.parametrize("typed", ["", "123", "0" * 17, "U" * 16, "000000000000000!", "é" * 16])
def test_what_can_be_no_code_is_none(typed: str) -> None:
    assert read_code(typed) is None


def test_codes_hold_all_their_chance() -> None:
    assert len({code_of(n) for n in range(2000)} - {None}) > 1700
    assert BITS >= 60
