"""Files on disk: whole or not there, by what they hold, school by school."""

import hashlib
from pathlib import Path

import pytest

from coursekit.store.filing import Filing

BYTES = b"a picture"
DIGEST = hashlib.sha256(BYTES).hexdigest()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "files"


def kept(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


def test_a_file_is_kept_under_its_digest_for_its_owners_eyes_only(folder: Path) -> None:
    assert Filing(folder).keep(7, BYTES) == DIGEST

    assert kept(folder) == [folder / "7" / DIGEST[:2] / DIGEST]
    assert kept(folder)[0].stat().st_mode & 0o777 == 0o600
    assert Filing(folder).read(7, DIGEST) == BYTES


def test_the_same_bytes_are_kept_once(folder: Path) -> None:
    for _ in range(2):
        Filing(folder).keep(7, BYTES)

    assert len(kept(folder)) == 1


def test_another_school_does_not_find_it(folder: Path) -> None:
    Filing(folder).keep(7, BYTES)

    assert Filing(folder).read(8, DIGEST) is None


def test_what_was_changed_behind_our_back_is_not_given_out_and_mended_by_the_same_file(
    folder: Path,
) -> None:
    Filing(folder).keep(7, BYTES)
    kept(folder)[0].write_bytes(b"another one")

    assert Filing(folder).read(7, DIGEST) is None
    Filing(folder).keep(7, BYTES)
    assert Filing(folder).read(7, DIGEST) == BYTES


def test_a_write_that_fails_leaves_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OSError, match="No space"):
        Filing(folder).keep(7, BYTES)

    assert kept(folder) == []


def test_what_is_forgotten_is_gone_and_may_be_forgotten_twice(folder: Path) -> None:
    Filing(folder).keep(7, BYTES)
    for _ in range(2):
        Filing(folder).forget(7, DIGEST)

    assert Filing(folder).read(7, DIGEST) is None
    assert kept(folder) == []
