"""A person at a browser, and what must hold of every page that they see."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import ConsoleMessage, Page, Request, Response

# WCAG 2.2 AA, with the good habits that axe names beside it.
# Its preloading of style sheets breaks on imports and speaks on the console.
AXE = {"resultTypes": ["violations"], "preload": False}
PAGE_WEIGHT = 100_000
SMALLEST_TARGET = 44
NARROWEST = 320
# Loading fails while the signal is away: that is what those tests are about.
NO_SIGNAL = re.compile(r"ERR_INTERNET_DISCONNECTED|ERR_NETWORK_CHANGED|Failed to fetch")
# A form that is to be mended, and a sign-in that ended, are pages that the tests look at.
TO_MEND = re.compile(r"the server responded with a status of (401|422)")
# Links inside a sentence are exempt (WCAG 2.5.8), and so is what is not shown.
SMALL_TARGETS = """(smallest) => {
  const targets = 'a[href], button, input:not([type=hidden]), select, textarea, summary';
  const text = 'p, li, dd, td, figcaption, label, .trail';
  const inSentence = (node) => node.tagName === 'A' && node.parentElement.closest(text);
  const ticks = (node) => node.type === 'checkbox' || node.type === 'radio';
  const touched = (node) => (ticks(node) && node.closest('label')) || node;
  const tooSmall = (box) => Math.min(box.height, box.width) < smallest - 0.5;
  const shown = (node, box) => box.width > 1 && box.height > 1 && node.checkVisibility();
  const size = (box) => `${Math.round(box.width)}x${Math.round(box.height)}`;
  return [...document.querySelectorAll(targets)]
    .filter((node) => !inSentence(node))
    .map((node) => [node, touched(node).getBoundingClientRect()])
    .filter(([node, box]) => shown(node, box) && tooSmall(box))
    .map(([node, box]) => `${node.outerHTML.slice(0, 90)} ${size(box)}`);
}"""
# What a first visit loads, pictures apart: the page, its styles and its scripts.
WEIGHT = """() => performance.getEntries()
  .filter((entry) => entry.entryType === 'navigation' || entry.entryType === 'resource')
  .filter((entry) => !/\\.(svg|png)$/.test(new URL(entry.name).pathname))
  .filter((entry) => !['fetch', 'xmlhttprequest', 'img'].includes(entry.initiatorType))
  .reduce((sum, entry) => sum + entry.decodedBodySize, 0)"""
# Long names in a list of facts leave its values the larger part of the line, near enough.
SQUEEZED = """(least) => [...document.querySelectorAll('dl.facts')]
  .map((list) => [list.querySelector('dd'), list.getBoundingClientRect().width])
  .filter(([value, width]) => value && width > 1 && value.checkVisibility())
  .map(([value, width]) => [value, value.getBoundingClientRect().width / width])
  .filter(([, share]) => share < least)
  .map(([value, share]) => `${value.textContent.slice(0, 40)} ${share.toFixed(2)}`)"""
LEAST_FOR_VALUES = 0.45
OVERFLOW = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"


@dataclass
class Visitor:
    """One browser tab, the address it visits, and what went wrong in it."""

    page: Page
    address: str
    shots: Path
    name: str
    scripts: bool = True
    complaints: list[str] = field(default_factory=list)
    seen: int = 0

    def __post_init__(self) -> None:
        self.page.on("console", self._heard)
        self.page.on("pageerror", lambda error: self.complaints.append(f"script: {error}"))
        self.page.on("request", self._requested)
        self.page.on("response", self._answered)

    def open(self, path: str) -> None:
        """Go to a page of the school."""
        self.page.goto(self.address + path if path.startswith("/") else path)

    def look(self, what: str, *, is_first_visit: bool = True) -> None:
        """Hold the page that is open to what every page must meet, and keep a picture.

        What a page fetches only once it is asked to do more is not weighed.
        """
        self.seen += 1
        self.page.screenshot(
            path=self.shots / f"{self.name}-{self.seen:02}-{what}.png", full_page=True
        )
        self._note(what, "is not accessible", self._axe)
        self._note(what, "has targets that a glove misses", self._small_targets)
        self._note(what, "scrolls sideways", self._overflow)
        self._note(what, "squeezes its values", self._squeezed)
        if is_first_visit:
            self._note(what, "is heavy", self._overweight)

    def _note(self, what: str, problem: str, found: Callable[[], list[str]]) -> None:
        self.complaints += [f"{what} {problem}: {each}" for each in found()]

    def _axe(self) -> list[str]:
        if not self.scripts:
            return []
        violations = Axe().run(self.page, options=AXE).response["violations"]
        return [
            f"{each['id']}: {each['help']} ({each['nodes'][0]['html'][:120]})"
            for each in violations
        ]

    def _small_targets(self) -> list[str]:
        found: list[str] = self.page.evaluate(SMALL_TARGETS, SMALLEST_TARGET)
        return found

    def _overflow(self) -> list[str]:
        size = self.page.viewport_size
        assert size
        widths = sorted({size["width"], min(size["width"], NARROWEST)})
        over = []
        for width in widths:
            self.page.set_viewport_size({"width": width, "height": size["height"]})
            if (excess := self.page.evaluate(OVERFLOW)) > 0:
                over.append(f"{excess} px at {width} px")
        self.page.set_viewport_size(size)
        return over

    def _squeezed(self) -> list[str]:
        found: list[str] = self.page.evaluate(SQUEEZED, LEAST_FOR_VALUES)
        return found

    def _overweight(self) -> list[str]:
        weight = self.page.evaluate(WEIGHT)
        return [f"{weight} bytes"] if weight > PAGE_WEIGHT else []

    def _heard(self, message: ConsoleMessage) -> None:
        is_expected = NO_SIGNAL.search(message.text) or TO_MEND.search(message.text)
        if message.type in {"error", "warning"} and not is_expected:
            self.complaints.append(f"console: {message.text} ({message.location.get('url')})")

    def _requested(self, request: Request) -> None:
        parts = urlsplit(request.url)
        if parts.scheme not in {"data", "blob", "about"} and parts.hostname != "127.0.0.1":
            self.complaints.append(f"asked another host: {request.url}")

    def _answered(self, response: Response) -> None:
        if response.status >= 500:
            self.complaints.append(f"{response.status} for {response.url}")
