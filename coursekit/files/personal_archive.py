"""A person's own data as one archive: JSON for machines, CSV for a spreadsheet, and a README."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from coursekit.files.plain_table import plain_table

ARCHIVE_TYPE = "application/zip"


@dataclass(frozen=True)
class ArchiveTable:
    """The rows of one table: those about the person, and what of others names them."""

    name: str
    columns: Sequence[str]
    about: Sequence[Mapping[str, Any]]
    naming: Sequence[Mapping[str, Any]]


def personal_archive(tables: Iterable[ArchiveTable], readme: str, at: datetime) -> bytes:
    """Return the archive; alike rows at the same moment give the same bytes."""
    kept = tuple(tables)
    document = {
        "format": 1,
        "made_at": at.isoformat(),
        "about": {table.name: list(table.about) for table in kept if table.about},
        "named_in": {table.name: list(table.naming) for table in kept if table.naming},
    }
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        _put(archive, "README.txt", readme.encode(), at)
        text = json.dumps(document, indent=1, ensure_ascii=False, default=str)
        _put(archive, "data.json", text.encode(), at)
        for table in kept:
            if table.about:
                _put(archive, f"{table.name}.csv", _csv(table), at)
    return buffer.getvalue()


def _put(archive: zipfile.ZipFile, name: str, data: bytes, at: datetime) -> None:
    stamp = zipfile.ZipInfo(name, at.timetuple()[:6])
    stamp.compress_type = zipfile.ZIP_DEFLATED
    archive.writestr(stamp, data)


def _csv(table: ArchiveTable) -> bytes:
    rows = [[_cell(row.get(name)) for name in table.columns] for row in table.about]
    return plain_table(f"{table.name}.csv", [list(table.columns), *rows])


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, dict | list):
        return json.dumps(value, ensure_ascii=False, default=str)
    return str(value)
