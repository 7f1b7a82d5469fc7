"""A pull logged from the file of a load cell: tried first, then written."""

import re
from io import BytesIO
from typing import Any

import pytest
from flask import Flask
from itsdangerous import URLSafeSerializer
from werkzeug.datastructures import FileStorage
from werkzeug.test import encode_multipart

from coursekit.services import pulls
from coursekit.store.unit import Unit
from coursekit.web.teach.cell_upload import SALT
from tests.cast import Cast
from tests.shell.cell_files import swing, written
from tests.web.visitor import Visitor

GOOD = written(swing(9.0))


@pytest.fixture
def measured(cast: Cast) -> str:
    return f"/classes/{cast.class_id}/pulls/measured?scenario={cast.class_scenario_id}&rig=given"


def tried(who: Visitor, address: str, data: bytes = GOOD, **typed: Any) -> Visitor:
    file: Any = [(BytesIO(data), "pull-7.csv")]
    return who.open(address).send(
        file=file, try_it="1", **{"ended": "came-free", "place": "bow-1", **typed}
    )


def posted(who: Visitor, address: str, data: bytes) -> tuple[int, str]:
    """Send a large file as a browser does, without a copy of it on the disk."""
    values = dict(who.open(address).forms[0].pairs)
    values |= {"ended": "came-free", "place": "bow-1", "try_it": "1"}
    file = FileStorage(BytesIO(data), "pull-7.csv", "file")
    boundary, body = encode_multipart({**values, "file": file})
    with who.client.post(
        address,
        input_stream=BytesIO(body),
        content_length=len(body),
        content_type=f"multipart/form-data; boundary={boundary}",
    ) as response:
        return response.status_code, response.get_data().decode()


def logged(unit: Unit, cast: Cast) -> int:
    return len(pulls.pulls_of_class(unit, cast.instructor.actor, cast.class_id))


def test_the_log_of_a_rig_leads_to_the_file_of_the_cell(
    instructor: Visitor, cast: Cast, measured: str
) -> None:
    instructor.open(measured.replace("/measured", "/rig"))

    assert measured.replace("&", "&amp;") in instructor.html


def test_a_try_shows_the_peak_the_chart_and_the_loads_and_writes_nothing(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured)

    assert instructor.status == 200
    assert instructor.heading.startswith("Measured 9.00 kN, solved 7.")
    assert "<desc>Measured, peak 9.00 kN; solved, peak 7." in instructor.html
    assert "9.00 kN of 31.8 kN" in instructor.html
    assert logged(unit, cast) == 0


def test_what_was_tried_is_logged_without_choosing_the_file_again(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured).send(log_it="1")

    assert instructor.heading == "Logged: came free. Every item may go out again"
    assert "A load cell beside Bow 1 read a peak of 9.00 kN" in instructor.html
    assert re.search(r"9\.00 kN of [\d.]+ kN, 29 %", instructor.html)
    assert logged(unit, cast) == 1


def test_the_same_page_sent_five_times_counts_once(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    page = tried(instructor, measured).response
    for _ in range(5):
        instructor.response = page
        instructor.send(log_it="1")

    assert "it counts once" in instructor.html
    assert logged(unit, cast) == 1


def test_a_change_after_the_try_is_shown_before_it_is_logged(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured).send(log_it="1", place="winch-line")

    assert logged(unit, cast) == 0
    assert "look at the new figures" in instructor.notices[-1]
    instructor.send(log_it="1")
    assert logged(unit, cast) == 1


def test_a_pull_up_to_the_end_of_the_cell_s_range_is_told_and_logged_as_not_known(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured, most="9 kN")
    assert instructor.heading.startswith("Measured 9.00 kN or more, solved 7.")
    assert "at the end of its range of 9.00 kN" in instructor.html
    assert "every item goes into quarantine" in instructor.html
    assert "not known" in instructor.html

    instructor.send(log_it="1")
    assert instructor.heading == "Logged: came free. 3 items stay in the store"
    assert "the force may have been higher" in instructor.html
    assert "the load on an item of this load path is unknown" in instructor.html


def test_a_range_that_was_said_after_the_try_is_shown_before_it_is_logged(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured).send(log_it="1", most="9 kN")
    assert logged(unit, cast) == 0

    instructor.send(log_it="1", most="0 kN")
    assert "The range of a cell is above 0" in instructor.errors[0]
    assert logged(unit, cast) == 0


def test_the_lower_of_two_ranges_counts(instructor: Visitor, measured: str) -> None:
    data = b"Range: 9 kN\n" + GOOD
    tried(instructor, measured, data, most="20 kN")
    assert "at the end of its range of 9.00 kN" in instructor.html

    tried(instructor, measured, GOOD, most="20 kN")
    assert "up to 20.0 kN" in instructor.html
    assert "quarantine" not in instructor.html


def test_a_winch_pull_that_stands_still_at_its_peak_asks_for_the_range(
    instructor: Visitor, measured: str
) -> None:
    held = written([*[0.0] * 20, *[n / 2 for n in range(18)], *[9.0] * 40, *[0.0] * 20])
    tried(instructor, measured, held)
    assert "say below what the cell reads at most" in instructor.html

    tried(instructor, measured, held, most="50 kN")
    assert "say below" not in instructor.html


def test_the_file_stays_where_another_control_is_to_be_mended(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured, ended=[])
    assert instructor.status == 422
    assert instructor.errors == ["▲ Fill this in."]

    instructor.send(try_it="1", ended="came-free").send(log_it="1")
    assert logged(unit, cast) == 1


def test_what_was_taken_off_for_the_zero_stays_in_doubt(instructor: Visitor, measured: str) -> None:
    drifted = written(swing(9.0, rest=0.5))
    tried(instructor, measured, drifted)
    assert "every force is high by that" in instructor.html

    tried(instructor, measured, drifted, zero="balanced")
    assert "0.500 kN was taken off every force" in instructor.html
    assert "only where the line hung slack" in instructor.html


def test_another_zero_wants_the_file_once_more(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured).send(log_it="1", zero="balanced")

    assert instructor.status == 422
    assert any("once more" in error for error in instructor.errors)
    assert logged(unit, cast) == 0


def test_a_reading_that_this_server_did_not_seal_is_no_file(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured)
    sealed = instructor.value("upload") or ""
    instructor.send(log_it="1", upload=sealed[:-4] + "AAAA")

    assert instructor.status == 422
    assert instructor.errors == ["▲ Choose a file first."]
    assert logged(unit, cast) == 0


def test_a_reading_that_an_earlier_version_sealed_is_no_file(
    app: Flask, instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    """Its shape was another one: without the end of the range."""
    tried(instructor, measured)
    body = URLSafeSerializer(str(app.secret_key), SALT).loads(instructor.value("upload") or "")
    del body["reading"]["most"]
    for salt in ("load-cell", SALT.replace(" most", "")):
        old = URLSafeSerializer(str(app.secret_key), salt).dumps(body)
        instructor.send(log_it="1", upload=str(old))

        assert instructor.status == 422
        assert instructor.errors == ["▲ Choose a file first."]
    assert logged(unit, cast) == 0


def test_the_file_of_a_logged_pull_is_refused_on_a_fresh_page(
    instructor: Visitor, unit: Unit, cast: Cast, measured: str
) -> None:
    tried(instructor, measured).send(log_it="1")
    tried(instructor, measured)

    assert instructor.status == 422
    assert "The pull of this file is logged already." in instructor.notices[0]
    assert logged(unit, cast) == 1


def test_a_bad_cell_is_told_with_file_line_and_column_and_what_was_typed_stays(
    instructor: Visitor, cast: Cast, measured: str
) -> None:
    bad = GOOD.replace(b"0.0500,0.0000", b"0.0500,NaN")
    tried(instructor, measured, bad, ended="stuck", **{"item-bow-1": str(cast.items["Bow 2"])})

    assert instructor.status == 422
    assert "pull-7.csv:7: force [kN]" in instructor.errors[0]
    assert '"NaN" is not a number' in instructor.errors[0]
    assert instructor.value("item-bow-1") == str(cast.items["Bow 2"])
    assert instructor.value("ended") == "stuck"


def test_a_ton_that_does_not_say_which_is_asked_about(instructor: Visitor, measured: str) -> None:
    data = written(swing(0.9), head="time [s],load [t]")
    tried(instructor, measured, data)
    assert instructor.status == 422
    assert "does not say which ton" in instructor.errors[0]

    tried(instructor, measured, data, unit="tf")
    # 0.9 x 9806.65 N, rounded up.
    assert "Measured 8.83 kN" in instructor.heading


def test_a_large_file_is_taken_and_one_beyond_the_limit_is_refused(
    instructor: Visitor, measured: str
) -> None:
    large = written([*swing(9.0), *([0.0] * 150_000)])
    assert len(large) > 2 * 1024 * 1024

    status, page = posted(instructor, measured, large)
    assert (status, "Measured 9.00 kN" in page) == (200, True)
    status, page = posted(instructor, measured, b"\x89PNG\r\n" * 3_000_000)
    assert (status, "The file is too large. Up to 16 MB." in page) == (422, True)


def test_only_the_form_of_the_cell_takes_a_large_file(instructor: Visitor, measured: str) -> None:
    instructor.open(measured.replace("/measured", "/rig"))
    instructor.send(ended="x" * 2_000_000)

    assert instructor.status == 413


def test_another_class_s_rig_is_not_found(instructor: Visitor, cast: Cast) -> None:
    address = f"/classes/{cast.class_id}/pulls/measured?scenario=999&rig=given"

    assert instructor.open(address).status == 404
