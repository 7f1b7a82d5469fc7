"""Seconds from `serve` to the first page, memory of a worker, queries a page."""

from __future__ import annotations

import re
import time
import urllib.parse
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.cookiejar import CookieJar
from pathlib import Path
from typing import Any

import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from sqlalchemy import Engine, event

from coursekit.web.app import create_app
from tests.benchmarks.conftest import Report
from tests.server import School, running

pytestmark = pytest.mark.benchmark

PAGES = 1_000
TOKEN = re.compile(r'name="(\S*csrf_token)"[^>]*value="([^"]+)"')
Get = Callable[[str], str]


@pytest.fixture(scope="module")
def instance(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the demo school has been made."""
    return tmp_path_factory.mktemp("instance")


@pytest.fixture(scope="module")
def demo(instance: Path) -> Iterator[tuple[School, float]]:
    """A worker with the demo school, and how long it took to its first page."""
    start = time.perf_counter()
    with running(instance, "--demo") as school:
        yield school, time.perf_counter() - start


def _signed_in(school: School) -> Get:
    """Return what fetches a page as the demo instructor."""
    opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))

    def get(path: str, form: dict[str, str] | None = None) -> str:
        data = urllib.parse.urlencode(form).encode() if form else None
        with opener.open(school.address + path, data) as answer:
            text: str = answer.read().decode()
            return text

    assert "/me" in get("/sign-in", _credentials(school, get("/sign-in")))
    return get


def _credentials(school: School, page: str) -> dict[str, str]:
    token = TOKEN.search(page)
    assert token
    return {
        token[1]: token[2],
        "sign-in-sign_in_name": school.sign_in_name,
        "sign-in-password": school.password,
    }


def _links(get: Get, path: str, pattern: str, most: int = 1) -> list[str]:
    return list(dict.fromkeys(re.findall(pattern, get(path))))[:most]


def _usual_pages(get: Get) -> list[str]:
    """Return the pages that staff open most: lists, one class, papers, items and a chart."""
    classes = _links(get, "/classes", r'href="(/classes/\d+)"', 2)
    papers = [paper for each in classes for paper in _links(get, each, r'href="(/papers/\d+)"', 3)]
    items = _links(get, "/kit", r'href="(/kit/items/\d+)"', 5)
    scenarios = _links(get, "/scenarios", r'href="(/scenarios/\d+)"', 3)
    charts = [f"{item}/life.svg" for item in items[:1]]
    return ["/classes", *classes, *papers, "/scenarios", *scenarios, "/kit", *items, *charts]


def _resident_mib(pid: int) -> float:
    status = Path(f"/proc/{pid}/status").read_text("ascii")
    found = re.search(r"VmRSS:\s+(\d+) kB", status)
    assert found
    return int(found.group(1)) / 1024


def test_first_page_of_a_demo_that_is_there(
    benchmark: BenchmarkFixture, instance: Path, demo: tuple[School, float], report: Report
) -> None:
    report(f"{demo[1]:.1f} s from `serve --demo` to the first page, the school made on the way")
    started: list[Any] = []

    def stop() -> None:
        for running_school in started:
            running_school.__exit__(None, None, None)
        started.clear()

    def serve() -> None:
        started.append(running(instance))
        started[-1].__enter__()

    benchmark.pedantic(serve, setup=stop, rounds=3)
    stop()


def test_memory_of_a_worker_after_a_thousand_pages(
    demo: tuple[School, float], report: Report
) -> None:
    school = demo[0]
    get = _signed_in(school)
    pages = _usual_pages(get)
    before = _resident_mib(school.pid)
    start = time.perf_counter()
    for number in range(PAGES):
        get(pages[number % len(pages)])
    seconds = time.perf_counter() - start

    after = _resident_mib(school.pid)
    report(
        f"{after:.0f} MiB resident after {PAGES} pages ({before:.0f} MiB before), "
        f"{1000 * seconds / PAGES:.0f} ms a page, one at a time"
    )
    assert len(pages) > 10


@contextmanager
def _counting() -> Iterator[list[str]]:
    statements: list[str] = []

    def seen(*arguments: Any) -> None:
        statements.append(arguments[2])

    event.listen(Engine, "before_cursor_execute", seen)
    yield statements
    event.remove(Engine, "before_cursor_execute", seen)


def test_queries_a_page(demo: tuple[School, float], instance: Path, report: Report) -> None:
    pages = _usual_pages(_signed_in(demo[0]))
    client = create_app({"INSTANCE": instance}).test_client()
    client.post("/sign-in", data=_credentials(demo[0], client.get("/sign-in").text))
    counts: dict[str, int] = {}
    for page in pages:
        with _counting() as statements:
            assert client.get(page).status_code == 200, page
        shape = re.sub(r"\d+", "N", page)
        counts[shape] = max(counts.get(shape, 0), len(statements))

    report("; ".join(f"{count} queries on {shape}" for shape, count in counts.items()))
