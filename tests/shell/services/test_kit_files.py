"""Photos and certificates of an item: taken in once, given out, removed with a trace."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from coursekit.problems import Problems
from coursekit.services import kit, kit_files
from coursekit.services.actor import Actor
from coursekit.services.errors import NotFound, Refused, RoleNeeded
from coursekit.services.kit_files import FileKind, NewFile, Removal
from coursekit.store.filing import Filing
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.files.pictures import HTML, PDF, picture


@pytest.fixture
def filing(tmp_path: Path) -> Filing:
    return Filing(tmp_path / "files")


@pytest.fixture
def tobin(cast: Cast) -> Actor:
    return cast.storekeeper.actor


@pytest.fixture
def rope_photo(cast: Cast) -> NewFile:
    return NewFile(cast.items["Rope 1"], FileKind.PHOTO, "rope.jpg", picture())


@pytest.fixture
def proof(cast: Cast) -> NewFile:
    return NewFile(cast.items["Rope 1"], FileKind.CERTIFICATE, "proof.pdf", PDF)


def on_disk(folder: Path) -> int:
    return sum(path.is_file() for path in folder.rglob("*"))


def test_what_was_added_is_told_with_who_and_when_and_given_out(
    unit: Unit, filing: Filing, tobin: Actor, proof: NewFile, now: datetime
) -> None:
    file_id = kit_files.add_file(unit, filing, tobin, proof, now)
    (row,) = kit_files.files_of_item(unit, tobin, proof.item_id)

    assert (row.id, row.name, row.by, row.added_at) == (file_id, "proof.pdf", "Tobin Hale", now)
    assert (row.kind, row.media_type, row.size_bytes) == (
        "certificate", "application/pdf", len(PDF),
    )  # fmt: skip
    assert kit_files.give_file(unit, filing, tobin, file_id).data == PDF


def test_a_photo_has_a_small_one_beside_it_and_a_pdf_has_none(
    unit: Unit, filing: Filing, tobin: Actor, rope_photo: NewFile, proof: NewFile, now: datetime
) -> None:
    large = replace(rope_photo, data=picture(size=(640, 480)))
    file_id = kit_files.add_file(unit, filing, tobin, large, now)
    pdf_id = kit_files.add_file(unit, filing, tobin, proof, now)

    whole = kit_files.give_file(unit, filing, tobin, file_id)
    small = kit_files.give_file(unit, filing, tobin, file_id, small=True)
    assert (whole.row.width, whole.row.height) == (640, 480)
    assert len(small.data) < len(whole.data)
    with pytest.raises(NotFound):
        kit_files.give_file(unit, filing, tobin, pdf_id, small=True)


def test_what_is_sent_twice_counts_once(
    unit: Unit, filing: Filing, tobin: Actor, rope_photo: NewFile, now: datetime
) -> None:
    ids = {kit_files.add_file(unit, filing, tobin, rope_photo, now) for _ in range(2)}

    assert len(ids) == 1
    assert len(kit_files.files_of_item(unit, tobin, rope_photo.item_id)) == 1


def photos(unit: Unit, who: Actor, now: datetime) -> dict[str, int]:
    """Return the photo that each item of the list shows, by its mark."""
    rows = kit.list_items(unit, who, now.date())
    return {row.mark: row.photo_id for row in rows if row.photo_id is not None}


def test_a_list_shows_the_newest_photo_of_each_item(
    unit: Unit, filing: Filing, tobin: Actor, cast: Cast, rope_photo: NewFile, now: datetime
) -> None:
    older_id = kit_files.add_file(unit, filing, tobin, rope_photo, now)
    newer = replace(rope_photo, data=picture(size=(80, 80)))
    newer_id = kit_files.add_file(unit, filing, tobin, newer, now)
    proof = NewFile(cast.items["Bow 1"], FileKind.CERTIFICATE, "proof.jpg", picture())
    kit_files.add_file(unit, filing, tobin, proof, now)
    assert photos(unit, tobin, now) == {"Rope 1": newer_id}

    kit_files.remove_file(unit, filing, tobin, Removal(newer_id, "blurred"), now)
    assert photos(unit, tobin, now) == {"Rope 1": older_id}


def test_what_is_removed_is_off_the_disk_and_leaves_its_trace(
    unit: Unit, filing: Filing, tmp_path: Path, tobin: Actor, rope_photo: NewFile, now: datetime
) -> None:
    file_id = kit_files.add_file(unit, filing, tobin, rope_photo, now)
    assert on_disk(tmp_path) > 0

    removal = Removal(file_id, "shows a student")
    assert kit_files.remove_file(unit, filing, tobin, removal, now) == rope_photo.item_id

    assert on_disk(tmp_path) == 0
    (row,) = kit_files.files_of_item(unit, tobin, rope_photo.item_id)
    assert row.removed is not None
    assert (row.removed.name, row.removed.at) == ("Tobin Hale", now)
    assert row.removed.reason == "shows a student"
    assert photos(unit, tobin, now) == {}
    with pytest.raises(NotFound):
        kit_files.give_file(unit, filing, tobin, file_id)
    with pytest.raises(Refused, match="removed already"):
        kit_files.remove_file(unit, filing, tobin, removal, now)


def test_what_the_disk_did_not_delete_is_told_and_deleted_by_the_next_try(
    unit: Unit, filing: Filing, tmp_path: Path, tobin: Actor, proof: NewFile, now: datetime
) -> None:
    file_id = kit_files.add_file(unit, filing, tobin, proof, now)
    (kept,) = (path for path in tmp_path.rglob("*") if path.is_file())
    kept.unlink()
    kept.mkdir()  # a folder of its name can't be deleted as a file
    removal = Removal(file_id, "shows a student")
    with pytest.raises(Refused, match="the disk did not delete it"):
        kit_files.remove_file(unit, filing, tobin, removal, now)
    kept.rmdir()
    kept.write_bytes(PDF)

    with pytest.raises(Refused, match="removed already"):
        kit_files.remove_file(unit, filing, tobin, removal, now)
    assert on_disk(tmp_path) == 0


def test_bytes_that_another_item_needs_stay_on_the_disk(
    unit: Unit, filing: Filing, tobin: Actor, cast: Cast, proof: NewFile, now: datetime
) -> None:
    first = kit_files.add_file(unit, filing, tobin, proof, now)
    of_bow = replace(proof, item_id=cast.items["Bow 1"])
    second = kit_files.add_file(unit, filing, tobin, of_bow, now)
    kit_files.remove_file(unit, filing, tobin, Removal(first, "of the other"), now)

    assert kit_files.give_file(unit, filing, tobin, second).data == PDF


def test_what_was_removed_may_be_added_again(
    unit: Unit, filing: Filing, tobin: Actor, proof: NewFile, now: datetime
) -> None:
    first = kit_files.add_file(unit, filing, tobin, proof, now)
    kit_files.remove_file(unit, filing, tobin, Removal(first, "by mistake"), now)
    again = kit_files.add_file(unit, filing, tobin, proof, now)

    assert again != first
    assert kit_files.give_file(unit, filing, tobin, again).data == PDF


def test_a_removal_needs_a_reason_and_a_storekeeper(
    unit: Unit, filing: Filing, cast: Cast, tobin: Actor, proof: NewFile, now: datetime
) -> None:
    file_id = kit_files.add_file(unit, filing, tobin, proof, now)
    with pytest.raises(Problems, match="reason: It is empty"):
        kit_files.remove_file(unit, filing, tobin, Removal(file_id, " "), now)
    with pytest.raises(RoleNeeded):
        kit_files.remove_file(unit, filing, cast.student.actor, Removal(file_id, "x"), now)

    assert kit_files.give_file(unit, filing, tobin, file_id).data == PDF


def test_a_student_sees_no_file(
    unit: Unit, filing: Filing, cast: Cast, tobin: Actor, proof: NewFile, now: datetime
) -> None:
    file_id = kit_files.add_file(unit, filing, tobin, proof, now)
    for act in (
        lambda who: kit_files.give_file(unit, filing, who, file_id),
        lambda who: kit_files.files_of_item(unit, who, proof.item_id),
        lambda who: kit_files.add_file(unit, filing, who, proof, now),
    ):
        with pytest.raises(RoleNeeded):
            act(cast.student.actor)


def test_what_is_refused_writes_neither_row_nor_file(
    unit: Unit, filing: Filing, tmp_path: Path, tobin: Actor, proof: NewFile, now: datetime
) -> None:
    with pytest.raises(Problems, match=r"proof\.pdf is neither a PDF nor a picture"):
        kit_files.add_file(unit, filing, tobin, replace(proof, data=HTML), now)

    assert kit_files.files_of_item(unit, tobin, proof.item_id) == ()
    assert on_disk(tmp_path) == 0


def test_an_item_has_so_many_files_at_most(
    unit: Unit,
    filing: Filing,
    tobin: Actor,
    proof: NewFile,
    now: datetime,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(kit_files, "MOST_OF_ITEM", 2)
    for number in range(2):
        data = PDF.replace(b"Catalog", b"Catalog%d" % number)
        kit_files.add_file(unit, filing, tobin, replace(proof, data=data), now)

    with pytest.raises(Refused, match="has 2 files already"):
        kit_files.add_file(unit, filing, tobin, proof, now)


def test_a_file_that_is_lost_from_the_disk_is_not_found(
    unit: Unit, filing: Filing, tobin: Actor, proof: NewFile, now: datetime
) -> None:
    file_id = kit_files.add_file(unit, filing, tobin, proof, now)
    filing.forget(tobin.school_id, kit_files.file_of_id(unit, tobin, file_id).sha256)

    with pytest.raises(NotFound):
        kit_files.give_file(unit, filing, tobin, file_id)


@pytest.mark.parametrize(
    ("given", "shown"),
    [
        ("rope.jpg", "rope.jpg"),
        ("/etc/passwd", "passwd"),
        ("..\\..\\rope.jpg", "rope.jpg"),
        ("a\x00b\r\nc.pdf", "abc.pdf"),
        ("\u202egpj.exe", "gpj.exe"),
        ("", "file"),
        ("x" * 500 + ".pdf", "x" * 116 + ".pdf"),
    ],
)
def test_the_name_of_a_file_is_shown_without_what_could_mislead(given: str, shown: str) -> None:
    assert kit_files.clean_name(given) == shown
