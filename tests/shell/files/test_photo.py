"""A picture that was sent: only its pixels are kept, upright and not too large."""

import io
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfWriter

from coursekit.files import certificate, photo
from coursekit.files.certificate import LARGEST_PDF, read_certificate
from coursekit.files.photo import LARGEST_PHOTO, LONG_SIDE, SMALL_SIDE, read_picture
from coursekit.problems import Problems
from tests.shell.files.pictures import GIF, HTML, PDF, SVG, giant, located, opened, picture

RED, BLUE, WHITE = (254, 0, 0), (0, 0, 254), (255, 255, 255)


def near(found: Any, wanted: tuple[int, int, int]) -> bool:
    return all(abs(one - other) < 12 for one, other in zip(found, wanted, strict=True))


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_each_kind_becomes_a_jpeg_and_a_small_one(form: str) -> None:
    kept = read_picture(picture(form, (2400, 1200)), "rope.jpg")

    assert (kept.width, kept.height) == (LONG_SIDE, LONG_SIDE // 2)
    for data, size in ((kept.data, (1600, 800)), (kept.small, (SMALL_SIDE, SMALL_SIDE // 2))):
        image = opened(data)
        assert (image.format, image.mode, image.size) == ("JPEG", "RGB", size)
        assert near(image.getpixel((2, 2)), RED)
        assert near(image.getpixel((size[0] - 3, 2)), BLUE)


def test_a_small_picture_is_not_blown_up() -> None:
    kept = read_picture(picture(size=(64, 48)), "rope.jpg")

    assert (kept.width, kept.height) == (64, 48)
    assert opened(kept.small).size == (64, 48)


def test_where_and_with_what_it_was_taken_is_gone() -> None:
    sent = located()
    assert b"Invented Camera" in sent
    assert b"Ana Lim" in sent
    assert opened(sent).getexif().get_ifd(0x8825)

    kept = read_picture(sent, "rope.jpg")

    for data in (kept.data, kept.small):
        assert b"Exif" not in data
        assert b"Invented Camera" not in data
        assert b"Ana Lim" not in data
        assert not opened(data).getexif()
        assert "comment" not in opened(data).info


# On which side of the upright picture the stored 0th column is seen, by the table printed in
# the source.  The stored left half is red, so red is where the 0th column is.
UPRIGHT = {
    1: ("left", (64, 48)),
    2: ("right", (64, 48)),
    3: ("right", (64, 48)),
    4: ("left", (64, 48)),
    5: ("top", (48, 64)),
    6: ("top", (48, 64)),
    7: ("bottom", (48, 64)),
    8: ("bottom", (48, 64)),
}
AT = {"left": (3, 24), "right": (60, 24), "top": (24, 3), "bottom": (24, 60)}


@pytest.mark.source("JEITA CP-3451 (Exif 2.2), page 18, tag Orientation: 0th row and 0th column")
@pytest.mark.parametrize("orientation", UPRIGHT)
def test_it_is_turned_as_its_camera_was_held(orientation: int) -> None:
    where, size = UPRIGHT[orientation]
    image = opened(read_picture(located(orientation), "rope.jpg").data)

    assert image.size == size
    assert near(image.getpixel(AT[where]), RED)


def test_what_shows_through_becomes_white() -> None:
    image = opened(read_picture(picture("PNG", mode="RGBA"), "a.png").data)
    assert near(image.getpixel((60, 24)), BLUE)

    clear = io.BytesIO()
    seen = opened(picture("PNG", mode="RGBA"))
    seen.putalpha(0)
    seen.save(clear, "PNG")
    assert near(opened(read_picture(clear.getvalue(), "a.png").data).getpixel((5, 5)), WHITE)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "CMYK", "I;16"])
def test_every_way_of_keeping_pixels_is_read(mode: str) -> None:
    buffer = io.BytesIO()
    opened(picture("PNG")).convert(mode).save(buffer, "JPEG" if mode == "CMYK" else "PNG")

    assert opened(read_picture(buffer.getvalue(), "a").data).mode == "RGB"


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (SVG, "rope.jpg is no picture of the kinds JPEG, PNG and WebP"),
        (HTML, "rope.jpg is no picture"),
        (GIF, "rope.jpg is no picture"),
        (PDF, "rope.jpg is no picture"),
        (b"", "rope.jpg is no picture"),
        (b"\xff\xd8\xff", "rope.jpg is"),
        (picture(size=(400, 300))[:2000], "rope.jpg is damaged"),
        (picture("PNG", (400, 300))[:-40], "rope.jpg is damaged"),
        (picture("WEBP", (400, 300))[:100], "rope.jpg is"),
        (giant(60_000, 60_000), "rope.jpg has more than 40 million pixels"),
        (giant(10_000, 10_000), "rope.jpg has more than 40 million pixels"),
        (giant(7_000, 6_000), "rope.jpg has more than 40 million pixels"),
        (bytes(LARGEST_PHOTO + 1), "rope.jpg is larger than 12 MB"),
    ],
    ids=[
        "svg", "page", "gif", "pdf", "nothing", "three bytes", "half a JPEG", "cut PNG", "cut WebP",
        "far too many pixels", "too many pixels", "just too many pixels", "too large",
    ],
)  # fmt: skip
def test_what_is_no_sound_picture_is_refused_by_its_name(data: bytes, told: str) -> None:
    with pytest.raises(Problems) as caught:
        read_picture(data, "rope.jpg")

    (problem,) = caught.value.items
    assert problem.where.field == "file"
    assert problem.what.startswith(told)


def test_a_picture_of_many_pixels_is_taken_while_they_are_not_too_many() -> None:
    kept = read_picture(picture(size=(7_000, 5_000)), "rope.jpg")

    assert (kept.width, kept.height) == (1600, 1143)


@settings(max_examples=150)
@given(
    form=st.sampled_from(["JPEG", "PNG", "WEBP"]),
    hits=st.lists(st.tuples(st.floats(0.0, 0.999), st.integers(0, 255)), min_size=1, max_size=20),
    cut=st.floats(0.0, 1.0),
)
def test_bytes_that_were_changed_make_a_picture_or_a_message(
    form: str, hits: list[tuple[float, int]], cut: float
) -> None:
    data = bytearray(picture(form))
    for place, value in hits:
        data[int(place * len(data))] = value
    try:
        kept = read_picture(bytes(data[: int(cut * len(data)) or None]), "rope.jpg")
    except Problems:
        return
    assert opened(kept.data).format == "JPEG"


def test_a_certificate_is_kept_byte_for_byte() -> None:
    buffer = io.BytesIO()
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    writer.write(buffer)
    kept = read_certificate(buffer.getvalue(), "proof.pdf")

    assert kept.data == buffer.getvalue()
    assert kept.media_type == certificate.PDF
    assert kept.small is None


def test_a_certificate_may_be_a_picture_of_the_paper() -> None:
    kept = read_certificate(picture(size=(3000, 2000)), "proof.pdf")

    assert kept.media_type == photo.JPEG
    assert kept.width == certificate.PAGE_SIDE


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (HTML, "proof.pdf is neither a PDF nor a picture"),
        (SVG, "proof.pdf is neither a PDF nor a picture"),
        (b"", "proof.pdf is neither a PDF nor a picture"),
        (b"PK\x03\x04" + PDF, "proof.pdf is neither a PDF nor a picture"),
        (PDF[:-7], "proof.pdf is a PDF whose end is missing"),
        (PDF + bytes(2000), "proof.pdf is a PDF whose end is missing"),
        (PDF[:-7] + bytes(LARGEST_PDF) + b"%%EOF", "proof.pdf is larger than 5 MB"),
        (picture()[:300], "proof.pdf is damaged"),
    ],
    ids=["page", "svg", "nothing", "archive", "cut", "padded", "too large", "cut picture"],
)
def test_what_is_no_certificate_is_refused_by_its_name(data: bytes, told: str) -> None:
    with pytest.raises(Problems) as caught:
        read_certificate(data, "proof.pdf")

    assert caught.value.items[0].what.startswith(told)
