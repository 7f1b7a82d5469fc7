"""Every text of a page passes through gettext: in a made-up language none stays English.

Each text of the catalogue is put in brackets.  What then stands outside them may only be
data: words of the scenario, names that people gave, numbers, units, ids.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from html.parser import HTMLParser
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

import pytest
from babel.messages.catalog import Catalog
from babel.messages.frontend import CommandLineInterface
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po
from flask import Flask

from coursekit.files.kit_table import COLUMNS
from coursekit.quantities.units import UNITS
from coursekit.services import issuing
from coursekit.services.issuing import Issue
from coursekit.store.unit import Unit
from coursekit.web.app import create_app
from coursekit.web.identity import UNIT
from tests.cast import KIT, NOW, Cast
from tests.shell.cell_files import swing, written
from tests.shell.classroom import colleague, slipped
from tests.shell.files.ford import FORD
from tests.shell.panel import pass_mark_of_a_panel
from tests.shell.snatches import recorded
from tests.shell.yard import YARD, YardWorld, mark_all, yard_world
from tests.web.conftest import NO_DATABASE, on_the_device_of
from tests.web.visitor import Visitor

ROOT = Path(__file__).parents[2]
WORD = re.compile(r"[A-Za-z]{4,}")
# Digests are no words, though four of their letters may stand together.
DIGEST = re.compile(r"\b[0-9a-f]{12,}\b")
BRACKETED = re.compile(r"⟦[^⟦⟧]*⟧")
SILENT = {"script", "style", "svg"}


def _made_up(text: str) -> str:
    return f"⟦{text}⟧"


@pytest.fixture(scope="module")
def translations(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A catalogue of the made-up language, from the texts that the project collects."""
    folder = tmp_path_factory.mktemp("translations")
    (command,) = re.findall(r"`(pybabel extract .*?)`", (ROOT / "DEVELOPERS.md").read_text("utf-8"))
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(ROOT)
        target = str(folder / "messages.pot")
        CommandLineInterface().run(shlex.split(command.replace("messages.pot", target)))
    collected = read_po(StringIO((folder / "messages.pot").read_text("utf-8")))
    catalogue = Catalog(locale="en")
    for message in collected:
        if message.id:
            plural = isinstance(message.id, list | tuple)
            made_up = tuple(map(_made_up, message.id)) if plural else _made_up(str(message.id))
            catalogue.add(message.id, made_up)
    target_file = folder / "en" / "LC_MESSAGES" / "messages.mo"
    target_file.parent.mkdir(parents=True)
    compiled = BytesIO()
    write_mo(compiled, catalogue)
    target_file.write_bytes(compiled.getvalue())
    return folder


@pytest.fixture(scope="module")
def foreign_app(translations: Path, tmp_path_factory: pytest.TempPathFactory) -> Flask:
    """The app in the made-up language."""
    config = {
        "UNIT": NO_DATABASE,
        "INSTANCE": tmp_path_factory.mktemp("instance"),
        "BABEL_TRANSLATION_DIRECTORIES": str(translations),
    }
    return create_app(config)


@pytest.fixture
def app(foreign_app: Flask, unit: Unit) -> Flask:
    foreign_app.extensions[UNIT] = unit
    return foreign_app


class _Text(HTMLParser):
    """Collects what a person reads of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self._silent = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._silent += tag in SILENT
        self.parts += [value or "" for name, value in attrs if name in ("alt", "aria-label")]

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in SILENT

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self.parts.append(data)


def _data_words(cast: Cast) -> set[str]:
    """Words that people wrote: scenario, kit, cast, and what units and columns are called."""
    written = [FORD, str(KIT), "coursekit Fernbank Northway Recovery School Winch basics"]
    written += [
        cast.instructor.name,
        cast.student.name,
        cast.storekeeper.name,
        "Ines Roe",
        "The panel agreed",
    ]
    written += [*COLUMNS, YARD, "Yard group Rowan Pike"]
    code = cast.join_code
    written += ["Saturday group", "http://localhost", code, code[:4], code[4:]]
    written += [" ".join((unit.symbol, *unit.typed)) for unit in UNITS]
    return {word.casefold() for text in written for word in WORD.findall(text)}


def _english(page: Visitor, cast: Cast) -> set[str]:
    reader = _Text()
    reader.feed(page.html)
    text = DIGEST.sub(" ", " ".join(reader.parts))
    while BRACKETED.search(text):
        text = BRACKETED.sub(" ", text)
    return {word.casefold() for word in WORD.findall(text)} - _data_words(cast)


def _pages(app: Flask, unit: Unit, cast: Cast) -> Iterator[Visitor]:
    student = on_the_device_of(app, cast.student)
    yield Visitor(student.client).open(f"/kit/items/{cast.items['Bow 1']}/look")
    yield student.open("/my-class")
    student.send(action=f"/my-class/{cast.class_scenario_id}/start")
    attempt = student.path
    yield student
    for link in re.findall(rf'href="({attempt}/tasks/[^"]+)"', student.html):
        yield Visitor(student.client).open(link)
    slip = slipped(app.extensions[UNIT], cast, _number(attempt), "weight-for-resistance")
    yield from _handed_in(Visitor(student.client), attempt, slip)
    yield from _practice(Visitor(student.client))
    instructor = on_the_device_of(app, cast.instructor)
    scenario = f"/scenarios/{cast.version_id}"
    paths = [
        "/classes",
        f"/classes/{cast.class_id}",
        f"/classes/{cast.class_id}/figures",
        f"/classes/{cast.class_id}/report",
        f"/classes/{cast.class_id}/yard",
        "/scenarios",
        scenario,
    ]
    paths += [f"{scenario}/rigs/given", f"{scenario}/sheet", f"{scenario}/guide", "/kit"]
    paths += [f"/kit/items/{next(iter(cast.items.values()))}", "/kit/retired", "/kit/ahead", "/me"]
    paths += [f"/kit/items/{item_id}/inspect" for item_id in cast.items.values()]
    paths += [
        f"/kit/classes/{cast.class_id}",
        f"/kit/classes/{cast.class_id}/return",
        f"/kit/classes/{cast.class_id}/plan",
        f"/kit/items/{cast.items['Bow 1']}/issue",
        f"/kit/scan?act=issue&item={cast.items['Bow 1']}&mark=none",
        f"/kit/scan?act=return&item={cast.items['Bow 1']}",
        "/kit/scan",
        "/kit?stands=ready&words=bow",
        f"/kit/items/{cast.items['Rope 1']}?made_by=inspection",
        f"/kit/items/{cast.items['Rope 1']}?made_by=age",
        f"/kit/items/{cast.items['Rope 1']}?made_by=use",
        f"/kit/items/{cast.items['Rope 1']}?made_by=calendar",
        f"/kit/items/{cast.items['Rope 1']}?made_by=standing",
        "/kit/ahead?kind=kinetic-rope",
        "/kit/labels",
        "/kit/labels/sheet",
        *(f"/kit/items/{cast.items['Line 1']}/{act}" for act in ("lost", "found", "repair")),
        f"/kit/items/{cast.items['Bow 1']}/photo",
        f"/kit/items/{cast.items['Bow 1']}/certificate",
        "/kit/import",
        "/kit/items/new",
        "/kit/types/new?kind=kinetic-rope",
        "/kit/types/new?kind=roundsling",
        f"/kit/items/{cast.items['Bow 1']}/change",
        "/kit/types/1",
        "/kit/types/1/change",
        "/kit/calendar",
    ]
    paths += [f"/classes/{cast.class_id}/mark-again", f"{scenario}/mark-again"]
    paths += ["/records", f"/records/classes/{cast.class_id}", "/check", "/check?code=1"]
    for path in (*paths, *_of_the_head(unit, cast), *_about_people(cast)):
        yield Visitor(instructor.client).open(path)
    for more in (_measured, _out_and_back):
        yield from more(on_the_device_of(app, cast.instructor), unit, cast)
    yield from _moderation(app, cast, student, attempt)
    instructor.open(scenario).send(f"{scenario}/change")
    draft = instructor.path
    for path in (draft, f"{draft}/text", f"{draft}/discard", "/scenarios/new"):
        yield Visitor(instructor.client).open(path)


def _of_the_head(unit: Unit, cast: Cast) -> Iterator[str]:
    yield from ("/school", "/school/people/new", "/school/rules", "/school/rules/change")
    person = f"/school/people/{cast.storekeeper.actor.person_id}"
    yield from (person, f"{person}/roles", f"{person}/password", f"{person}/end")
    sheet = f"/school/standards/{pass_mark_of_a_panel(unit, cast, NOW)}"
    yield from ("/school/standards", sheet, f"{sheet}/adopt")


def _measured(instructor: Visitor, unit: Unit, cast: Cast) -> Iterator[Visitor]:
    """Yield the form for the file of a load cell, its dry run with doubts, the log, a rope."""
    recorded(unit, cast, NOW, 1.4, 2.0)
    yield Visitor(instructor.client).open(f"/kit/items/{cast.items['Rope 1']}")
    rig = f"scenario={cast.class_scenario_id}&rig=given"
    address = f"/classes/{cast.class_id}/pulls/measured?{rig}"
    yield instructor.open(address)
    file: Any = [(BytesIO(written(swing(9.0, rate=9.0, rest=1.0), rate=9.0)), "pull.csv")]
    tried = Visitor(instructor.client).open(address)
    yield tried.send(file=file, try_it="1", ended="came-free", place="bow-1")
    yield Visitor(instructor.client, tried.response).send(log_it="1")


def _out_and_back(instructor: Visitor, unit: Unit, cast: Cast) -> Iterator[Visitor]:
    """Yield the return of what was pulled, what it was exposed to, and a pull told late."""
    item = cast.items["Hook 1"]
    issuing.issue(unit, cast.storekeeper.actor, Issue(cast.class_id, (item,), "out-and-back"), NOW)
    late = f"/classes/{cast.class_id}/pulls/item"
    pulled = {"item_id": str(item), "method": "winch", "size": "light", "ended": "came-free"}
    yield Visitor(instructor.client).open(late).send(at="yesterday", **pulled)
    yield Visitor(instructor.client).open(late).send(at="2026-06-11T09:00", **pulled)
    back = instructor.open(f"/kit/classes/{cast.class_id}/return")
    yield Visitor(instructor.client, back.response)
    yield back.send(others="clean", **{f"unknown-{item}": "51"})
    exposure = Visitor(instructor.client).open(f"/kit/items/{item}/exposure")
    yield exposure
    yield Visitor(instructor.client, exposure.response).send(what="sun", hours="3")


def _moderation(app: Flask, cast: Cast, student: Visitor, attempt: str) -> Iterator[Visitor]:
    instructor = on_the_device_of(app, cast.instructor)
    paper = attempt.replace("/attempts/", "/papers/")
    yield Visitor(instructor.client).open(f"{paper}/tasks/total/marks")
    instructor.open(f"{paper}/tasks/total/marks").send(marks="1", code="other", reason="ford")
    yield Visitor(student.client).open(f"{attempt}/appeal")
    student.open(f"{attempt}/appeal").send(reason="ford")
    for path in ("/reviews", "/reviews/1", paper):
        yield Visitor(instructor.client).open(path)
    yield Visitor(student.client).open(f"{attempt}/marks")
    yield from _second_marking(app, cast, paper)


def _second_marking(app: Flask, cast: Cast, paper: str) -> Iterator[Visitor]:
    second = on_the_device_of(app, colleague(app.extensions[UNIT], cast, "Tobin Quint"))
    yield second.open(f"{paper}/second")
    marks = {name: "1" for name, _value in second.forms[0].pairs if name.startswith("task-")}
    yield Visitor(second.client).open(second.path).send(**marks, unsafe="ford")
    group = f"/classes/{cast.class_id}"
    yield Visitor(second.client).open(f"{group}/second")
    yield second.open(f"{group}/close").send()
    yield second.open(f"{group}/mark-again").send()
    second.open(f"/records{group}").send(place="ford")
    for path in ("/records", "/records/1", f"/records{group}"):
        yield Visitor(second.client).open(path)


def _handed_in(student: Visitor, attempt: str, slip: str) -> Iterator[Visitor]:
    """Yield the marks of a paper with a usual mistake, and the question that follows."""
    student.open(f"{attempt}/tasks/total").send(answer=slip)
    yield student.open(f"{attempt}/hand-in").send()
    yield Visitor(student.client).open(f"{attempt}/tasks/total/follow-up")
    yield Visitor(student.client).open(f"{attempt}/tasks/total/follow-up").send(answer="1 N")


def _about_people(cast: Cast) -> list[str]:
    one = f"/school/data/{cast.student.actor.person_id}"
    return [
        "/school/data?name=lim",
        one,
        f"{one}/erase",
        "/school/data/past/erase",
        "/records/calendar",
    ]


def _number(path: str) -> int:
    return int(path.rsplit("/", 1)[1])


def _practice(student: Visitor) -> Iterator[Visitor]:
    yield student.open("/practice")
    question = Visitor(student.client).open("/practice")
    yield question.send(action="/practice/next", skill="resistance.total")
    yield Visitor(student.client).open(question.path).send(answer="1 N")


def test_no_page_holds_a_text_that_cannot_be_translated(app: Flask, unit: Unit, cast: Cast) -> None:
    left = {page.path: _english(page, cast) for page in _pages(app, unit, cast)}

    assert len(left) > 15
    assert {path: words for path, words in left.items() if words} == {}


def _of_the_yard(app: Flask, unit: Unit, world: YardWorld, cast: Cast) -> Iterator[Visitor]:
    """Yield a list while it is marked, read by a third, agreed on, over, and on record."""
    mara = on_the_device_of(app, cast.instructor)
    third = on_the_device_of(app, colleague(unit, cast, "Ines Roe"))
    group, path = f"/classes/{world.class_id}", f"/yard/{world.enrolment_id}/{world.place}"
    yield Visitor(mara.client).open(path)
    yield Visitor(mara.client).open(f"{group}/close")
    mark_all(unit, world, world.mara, "212", NOW)
    yield Visitor(third.client).open(f"{group}/yard")
    mark_all(unit, world, world.rowan, "020", NOW)
    yield Visitor(third.client).open(path)
    yield Visitor(third.client).open(f"{group}/yard")
    yield Visitor(mara.client).open(path)
    levels = {"level-brief.stop-word": "0", "level-brief.roles": "1", "level-pull.slow": "1"}
    yield mara.open(path).send(f"{path}/agree", **levels, reason="ford")
    mara.open(f"{group}/close").send()
    records = f"/records{group}"
    yield Visitor(mara.client).open(records)
    mara.open(records).send(place="ford")
    yield Visitor(mara.client).open("/records/1")


def test_no_page_of_the_yard_holds_a_text_that_cannot_be_translated(
    app: Flask, unit: Unit, cast: Cast, tmp_path: Path
) -> None:
    world = yard_world(unit, cast, tmp_path, NOW)
    pages = list(_of_the_yard(app, unit, world, cast))

    assert [page.status for page in pages] == [200] * len(pages)
    left = [(page.path, _english(page, cast)) for page in pages]
    assert [(path, words) for path, words in left if words] == []
