"""Photos and certificates on the page of an item, and how they are given out."""

import re
from io import BytesIO
from pathlib import Path

import pytest
from flask import Flask
from werkzeug.datastructures import FileStorage

from coursekit.files.photo import LARGEST_PHOTO
from coursekit.store.filing import Filing
from coursekit.web.identity import FILING
from tests.cast import Cast
from tests.shell.files.pictures import HTML, PDF, SVG, giant, located, opened, picture
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor, multipart


@pytest.fixture(autouse=True)
def folder(app: Flask, tmp_path: Path) -> Path:
    """Where the app keeps files in this test."""
    app.extensions[FILING] = Filing(tmp_path / "files")
    return tmp_path / "files"


@pytest.fixture
def rope(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Rope 1']}"


def sent(who: Visitor, item: str, kind: str, data: bytes, name: str) -> Visitor:
    """Send a file with the form that stands on the page of an item."""
    token = who.open(item).value(f"{kind}-csrf_token") or ""
    form = {f"{kind}-csrf_token": token, f"{kind}-file": FileStorage(BytesIO(data), name)}
    who.response = who.client.post(f"{item}/{kind}", **multipart(form))
    if who.response.headers.get("Location"):
        who.open(who.response.headers["Location"])
    return who


def addresses(page: Visitor) -> list[str]:
    return re.findall(r'<img src="(/kit/files/[^"]+)"', page.html)


def test_an_item_without_a_photo_asks_for_one_with_the_camera(
    storekeeper: Visitor, rope: str
) -> None:
    storekeeper.open(rope)

    assert 'capture="environment"' in storekeeper.html
    assert "There is no certificate of this item." in storekeeper.html
    assert addresses(storekeeper) == []
    assert [form.action for form in storekeeper.forms] == [f"{rope}/photo", f"{rope}/certificate"]


def test_a_photo_stands_on_top_with_words_and_who_took_it(storekeeper: Visitor, rope: str) -> None:
    page = sent(storekeeper, rope, "photo", picture(size=(640, 480)), "rope.jpg")

    assert page.path == rope
    large, small = addresses(page)
    assert small == f"{large}/small"
    assert (
        'alt="Photo of Rope 1, kinetic rope" width="640" height="480" loading="lazy"' in page.html
    )
    assert page.html.index(large) < page.html.index('id="use-h"')
    assert "photo by Tobin Hale" in page.html


def test_a_picture_is_given_out_so_that_nothing_in_it_runs(storekeeper: Visitor, rope: str) -> None:
    large, small = addresses(sent(storekeeper, rope, "photo", located(6), "rope.jpg"))

    for path in (large, small):
        answer = storekeeper.client.get(path)
        assert (answer.status_code, answer.content_type) == (200, "image/jpeg")
        assert opened(answer.get_data()).size == (48, 64)
        assert b"Invented Camera" not in answer.get_data()
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Content-Security-Policy"] == "sandbox; default-src 'none'"
        assert answer.headers["Content-Disposition"] == "inline"
        assert answer.headers["Cache-Control"] == "private, no-cache"


def test_a_browser_that_has_it_already_gets_no_second_copy(storekeeper: Visitor, rope: str) -> None:
    large, _small = addresses(sent(storekeeper, rope, "photo", picture(), "rope.jpg"))
    etag = storekeeper.client.get(large).headers["ETag"]
    again = storekeeper.client.get(large, headers={"If-None-Match": etag})

    assert (again.status_code, again.get_data()) == (304, b"")
    assert again.headers["Cache-Control"] == "private, no-cache"


@pytest.mark.parametrize(
    ("name", "saved_as"),
    [
        ("proof test.pdf", "proof_test.pdf"),
        ("proof.html", "proof.pdf"),
        ("../../proof.exe", "proof.pdf"),
        ("\u202e", "file.pdf"),
    ],
)
def test_a_certificate_is_saved_under_a_harmless_name_and_never_shown(
    storekeeper: Visitor, rope: str, name: str, saved_as: str
) -> None:
    page = sent(storekeeper, rope, "certificate", PDF, name)
    path = re.findall(r'href="(/kit/files/\d+)"', page.html)[0]
    answer = storekeeper.client.get(path)

    assert answer.get_data() == PDF
    assert answer.content_type == "application/pdf"
    assert answer.headers["Content-Disposition"] == f'attachment; filename="{saved_as}"'
    assert answer.headers["Content-Security-Policy"] == "sandbox; default-src 'none'"
    assert storekeeper.client.get(f"{path}/small").status_code == 404


def test_a_certificate_is_listed_with_who_and_when(instructor: Visitor, rope: str) -> None:
    page = sent(instructor, rope, "certificate", PDF, "proof.pdf")

    assert "<b>proof.pdf</b>" in page.html
    assert "added 13 Jun 2026 09:30 by Mara Quint" in page.html


@pytest.mark.parametrize(
    ("kind", "data", "told"),
    [
        ("photo", HTML, "rope.jpg is no picture of the kinds JPEG, PNG and WebP."),
        ("photo", SVG, "rope.jpg is no picture of the kinds JPEG, PNG and WebP."),
        ("photo", picture(size=(400, 300))[:2000], "rope.jpg is damaged."),
        ("photo", giant(60_000, 60_000), "rope.jpg has more than 40 million pixels."),
        ("photo", PDF, "rope.jpg is no picture of the kinds JPEG, PNG and WebP."),
        ("certificate", HTML, "rope.jpg is neither a PDF nor a picture"),
        ("certificate", b"%PDF-1.7" + bytes(6_000_000), "rope.jpg is larger than 5 MB."),
        ("photo", bytes(LARGEST_PHOTO + 1), "rope.jpg is larger than 12 MB."),
        ("photo", bytes(LARGEST_PHOTO + 600_000), "too large. JPEG, PNG or WebP, up to 12 MB."),
        ("certificate", bytes(50_000_000), "too large. PDF up to 5 MB, or a picture up to 12 MB."),
    ],
    ids=[
        "page", "svg", "cut", "bomb", "pdf", "page as certificate", "large pdf", "large photo",
        "larger photo", "far too large",
    ],
)  # fmt: skip
def test_what_can_not_be_taken_is_told_beside_its_control(
    storekeeper: Visitor, rope: str, folder: Path, kind: str, data: bytes, told: str
) -> None:
    page = sent(storekeeper, rope, kind, data, "rope.jpg")

    assert page.status == 422
    (error,) = page.errors
    assert told in error
    assert not folder.exists()
    assert addresses(storekeeper.open(rope)) == []


def test_no_file_is_told_beside_its_control(storekeeper: Visitor, rope: str) -> None:
    storekeeper.open(rope).send(action=f"{rope}/photo")

    assert storekeeper.errors == ["▲ Choose a file first."]


def test_what_is_too_large_is_not_taken_from_somebody_without_a_token(
    storekeeper: Visitor, rope: str
) -> None:
    response = storekeeper.client.post(
        f"{rope}/photo", data=b"x", environ_overrides={"CONTENT_LENGTH": "50000000"}
    )

    assert response.status_code == 422
    assert addresses(storekeeper.open(rope)) == []


def test_a_visitor_sends_nothing_large(visitor: Visitor, rope: str) -> None:
    large = multipart({"photo-file": FileStorage(BytesIO(bytes(5_000_000)), "rope.jpg")})

    assert visitor.client.post(f"{rope}/photo", **large).status_code == 401


def test_a_file_is_removed_with_a_reason_and_that_it_was_there_stays(
    storekeeper: Visitor, rope: str, folder: Path
) -> None:
    page = sent(storekeeper, rope, "photo", picture(), "rope.jpg")
    large, _small = addresses(page)
    storekeeper.open(f"{large}/remove").send(reason=" ")
    assert storekeeper.status == 422
    storekeeper.send(reason="shows a student")

    assert storekeeper.path == rope
    assert "1 file was removed" in storekeeper.html
    assert "shows a student" in storekeeper.html
    assert addresses(storekeeper) == []
    assert [path for path in folder.rglob("*") if path.is_file()] == []
    assert storekeeper.client.get(large).status_code == 404


def test_a_second_photo_stands_above_the_first(storekeeper: Visitor, rope: str) -> None:
    first = addresses(sent(storekeeper, rope, "photo", picture(), "old.jpg"))[0]
    page = sent(storekeeper, rope, "photo", picture(size=(80, 60)), "new.jpg")
    shown = addresses(page)

    assert shown[0] not in (first, f"{first}/small")
    assert shown[1:] == [f"{shown[0]}/small", f"{first}/small"]


def test_a_removal_that_is_sent_twice_is_told_so(storekeeper: Visitor, rope: str) -> None:
    large, _small = addresses(sent(storekeeper, rope, "photo", picture(), "rope.jpg"))
    before = storekeeper.open(f"{large}/remove").response
    for _time in range(2):
        storekeeper.response = before
        storekeeper.send(reason="shows a student")

    assert storekeeper.status == 422
    assert storekeeper.notices == ["This file was removed already. Nothing is left to do."]
    assert storekeeper.open(f"{large}/remove").status == 404


def test_nobody_of_another_school_and_no_student_gets_a_file(
    app: Flask, storekeeper: Visitor, student: Visitor, visitor: Visitor, cast: Cast, rope: str
) -> None:
    large, small = addresses(sent(storekeeper, rope, "photo", picture(), "rope.jpg"))
    outsider = on_the_device_of(app, cast.outsider)

    for path in (large, small):
        assert outsider.client.get(path).status_code == 404
        assert student.client.get(path).status_code == 403
        assert visitor.client.get(path).status_code == 302
    assert outsider.client.get(f"{large}/remove").status_code == 404
    assert sent(outsider, rope, "photo", picture(), "rope.jpg").status == 404


def test_the_store_shows_the_small_photo_beside_the_item(storekeeper: Visitor, rope: str) -> None:
    large, small = addresses(sent(storekeeper, rope, "photo", picture(), "rope.jpg"))
    storekeeper.open("/kit")

    assert re.findall(r'<img class="shelf-photo" src="([^"]+)" alt=""', storekeeper.html) == [small]
    assert large == small.removesuffix("/small")
