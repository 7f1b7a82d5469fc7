"""Code of others stands apart, with its licence beside it."""

from pathlib import Path

from tests.house.tree import STATIC, name_of

VENDORED = STATIC / "vendor"
FOLDERS = sorted(path for path in VENDORED.glob("*")) if VENDORED.exists() else []
ASSETS = {".js", ".mjs", ".css", ".woff", ".woff2", ".ttf", ".map"}
MADE_ELSEWHERE = ("Copyright", "(c)", "@license", "@preserve", "sourceMappingURL")


def _has_licence(folder: Path) -> bool:
    return any(path.stem.upper() == "LICENSE" for path in folder.iterdir())


def test_each_vendored_asset_has_its_licence_beside_it() -> None:
    without = [name_of(path) for path in FOLDERS if path.is_file() or not _has_licence(path)]

    assert without == []


def test_no_code_of_others_stands_among_our_own() -> None:
    ours = [
        path for path in STATIC.rglob("*") if path.suffix in ASSETS and VENDORED not in path.parents
    ]
    marked = [
        name_of(path)
        for path in ours
        if any(mark in path.read_text("utf-8", errors="replace") for mark in MADE_ELSEWHERE)
    ]

    assert marked == []
