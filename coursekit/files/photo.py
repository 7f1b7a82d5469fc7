"""A picture that somebody sent, read with care and written anew.

What is kept is never what was sent: the picture is decoded, turned upright, scaled and
written as a JPEG of its own.  So whatever else the file carried (the place where it was
taken, a maker's notes, another format behind the first) is gone, and what it holds
decides what it is, never its name.
"""

from __future__ import annotations

import io
import struct
import threading
from dataclasses import dataclass

from PIL import Image, ImageOps, UnidentifiedImageError

from coursekit.files.reading import WHOLE_FILE, Unreadable, unreadable
from coursekit.problems import Problem, Where

LARGEST_PHOTO = 12 * 1024 * 1024
"""Bytes of a picture as it is sent; a phone's has a third of it."""

MOST_PIXELS = 40_000_000
"""Pixels of a picture as it is sent: read, they take 160 MB."""

LONG_SIDE, SMALL_SIDE = 1600, 320
"""Pixels of the longer side of what is kept."""

JPEG = "image/jpeg"
_FORMATS = ("JPEG", "PNG", "WEBP")
_QUALITY = 85
_TAKE_ANOTHER = "Take the picture again, or save it anew in another program"
# What the readers of the formats raise on bytes that are damaged, by trial and by their code.
_DAMAGED = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    ArithmeticError,
    AssertionError,
    EOFError,
    MemoryError,
    RuntimeError,
    struct.error,
)
_TOO_MANY = (Image.DecompressionBombError, Image.DecompressionBombWarning)
# A large picture takes much memory while it is read: a worker reads one at a time.
_one_at_a_time = threading.Lock()


class NoPicture(Unreadable):
    """A file that is none of the kinds of picture that are read."""


@dataclass(frozen=True)
class Picture:
    """A picture to be kept, and the same made small; both are JPEGs without metadata."""

    data: bytes
    small: bytes
    width: int
    height: int

    @property
    def media_type(self) -> str:
        """What it is."""
        return JPEG


def read_picture(data: bytes, name: str, side: int = LONG_SIDE) -> Picture:
    """Return a picture of JPEG, PNG or WebP as it is kept, `side` pixels long at most.

    Raises
    ------
    Problems
        If it is too large, none of these, damaged, or has more pixels than are read.
    """
    if len(data) > LARGEST_PHOTO:
        raise too_large(name, LARGEST_PHOTO)
    with _one_at_a_time:
        kept = _kept(data, name, side)
        return Picture(_jpeg(kept), _jpeg(_scaled(kept, SMALL_SIDE)), *kept.size)


def no_picture(name: str, what: str) -> NoPicture:
    """Return the error of a file that is no picture; `what` is said of it."""
    mend = "Send one of these; what a file holds decides, not its name"
    where = Where(WHOLE_FILE, None, name)
    return NoPicture([Problem(where, f"{what} of the kinds JPEG, PNG and WebP", mend)])


def too_large(name: str, most: int) -> Unreadable:
    """Return the error of a file that has more bytes than are taken."""
    mend = "Send a smaller one: scan or take it at a lower resolution"
    return unreadable(name, f"{name} is larger than {most // 1024 // 1024} MB", mend)


def _kept(data: bytes, name: str, side: int) -> Image.Image:
    try:
        with _opened(data) as found:
            found.verify()
        with _opened(data) as found:
            _refuse_many_pixels(found)
            # A JPEG is read at a half, a quarter or an eighth of its size where that is enough.
            found.draft(None, fitting(found.size, side))
            return _plain(found, side)
    except _TOO_MANY:
        what = f"{name} has more than {MOST_PIXELS // 1_000_000} million pixels"
        raise unreadable(name, what, "Take it at a lower resolution") from None
    except UnidentifiedImageError:
        raise no_picture(name, f"{name} is no picture") from None
    except _DAMAGED:
        raise unreadable(name, f"{name} is damaged", _TAKE_ANOTHER) from None


def _opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data), formats=_FORMATS)


def _refuse_many_pixels(image: Image.Image) -> None:
    # Pillow's own limit is higher, and only warns where it is passed by little.
    if image.width * image.height > MOST_PIXELS:
        raise Image.DecompressionBombError


def fitting(size: tuple[int, int], side: int) -> tuple[int, int]:
    """Return the size that a picture has once its longer side is not above `side`.

    >>> fitting((3024, 4032), 1600), fitting((64, 48), 1600)
    ((1200, 1600), (64, 48))
    """
    scale = min(1.0, side / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def _plain(found: Image.Image, side: int) -> Image.Image:
    """Return the pixels alone, scaled and upright, on white where something shows through."""
    seen = found.convert("RGBA" if found.has_transparency_data else "RGB")
    seen.thumbnail((side, side), Image.Resampling.LANCZOS)
    seen = ImageOps.exif_transpose(seen)
    plain = Image.new("RGB", seen.size, "white")
    plain.paste(seen, mask=seen.getchannel("A") if seen.mode == "RGBA" else None)
    return plain


def _scaled(image: Image.Image, side: int) -> Image.Image:
    scaled = image.copy()
    scaled.thumbnail((side, side), Image.Resampling.LANCZOS)
    return scaled


def _jpeg(image: Image.Image) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "JPEG", quality=_QUALITY, optimize=True)
    return buffer.getvalue()
