"""Where the files of the repository stand, for the tests that read them."""

from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "coursekit"
TESTS = ROOT / "tests"
TEMPLATES = ROOT / "templates"
STATIC = PACKAGE / "web" / "static"
TOP_LEVEL = ("coursekit", "scenarios", "templates", "tests", ".ci")
TOP_LEVEL_FILES = ("README.md", "DEVELOPERS.md", "pyproject.toml", ".gitignore")


def name_of(path: Path) -> str:
    """Return the path as it is written in the repository."""
    return path.relative_to(ROOT).as_posix()


def python_files(folder: Path) -> list[Path]:
    """Return the Python files under a folder, in order."""
    return sorted(folder.rglob("*.py"))


def template_files() -> list[Path]:
    """Return every template, in order."""
    return sorted(TEMPLATES.rglob("*.html")) + sorted(TEMPLATES.rglob("*.svg"))


def text_files() -> Iterator[tuple[Path, str]]:
    """Yield every file of the repository that is text, with its text."""
    files = [ROOT / name for name in TOP_LEVEL_FILES]
    for folder in TOP_LEVEL:
        files += sorted(path for path in (ROOT / folder).rglob("*") if path.is_file())
    for path in files:
        if "__pycache__" in path.parts:
            continue
        try:
            yield path, path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
