"""How the tests of pictures read them."""

from __future__ import annotations

from collections.abc import Callable
from xml.etree import ElementTree as ET

import pytest


@pytest.fixture
def read_svg() -> Callable[[bytes | str], ET.Element]:
    """Return a reader that fails on anything but well-formed XML."""

    def read(drawn: bytes | str) -> ET.Element:
        return ET.fromstring(drawn)  # noqa: S314 -- our own drawing, nothing from outside

    return read
