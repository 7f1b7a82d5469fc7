"""Figures beside the timings of pytest-benchmark: printed, never asserted."""

from collections.abc import Callable

import pytest

Report = Callable[[str], None]


@pytest.fixture
def report(capsys: pytest.CaptureFixture[str]) -> Report:
    def say(figure: str) -> None:
        with capsys.disabled():
            print(f"\n  measured: {figure}")  # noqa: T201 - a measure is there to be read

    return say
