"""Chromium, a running demo school, and visitors with a phone or a laptop."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Playwright, expect, sync_playwright

from tests.browser.visitor import Visitor
from tests.server import School, running

CHROMIUM = "/usr/bin/chromium"
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
Device = dict[str, Any]
PHONE: Device = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True}
LAPTOP: Device = {"viewport": {"width": 1280, "height": 800}}

Meet = Callable[..., Visitor]


# How long a thing may take to be there: a busy machine fails no test.
PATIENCE_MS = 20_000


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def chromium(playwright: Playwright) -> Iterator[Browser]:
    browser = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def school(tmp_path_factory: pytest.TempPathFactory) -> Iterator[School]:
    with running(tmp_path_factory.mktemp("instance"), "--demo") as demo:
        yield demo


@pytest.fixture(scope="session")
def shots(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the pictures: COURSEKIT_SHOTS, to look at them after the run."""
    chosen = os.environ.get("COURSEKIT_SHOTS")
    folder = Path(chosen) if chosen else tmp_path_factory.mktemp("shots")
    folder.mkdir(parents=True, exist_ok=True)
    return folder


@pytest.fixture
def meet(chromium: Browser, school: School, shots: Path) -> Iterator[Meet]:
    """Make a visitor with a device of their own; at the end nothing may be left to complain of."""
    met: list[Visitor] = []

    def make(name: str, device: Device, *, scripts: bool = True, address: str = "") -> Visitor:
        context = chromium.new_context(**device, java_script_enabled=scripts, locale="en-GB")
        context.set_default_timeout(PATIENCE_MS)
        where = address or school.address
        met.append(Visitor(context.new_page(), where, shots, name, scripts=scripts))
        return met[-1]

    yield make
    for visitor in met:
        visitor.page.context.close()
    assert [f"{who.name}: {each}" for who in met for each in who.complaints] == []
