"""The project speaks of itself alone."""

import re

from tests.house.tree import name_of, text_files

# Written so that this file does not match itself.
ELSEWHERE = re.compile(
    r"""seed[ _-]document | transcrip[t]s? | /work[/] | \.librar[y] | issues[ ]show
    | issue[ ](no\.?[ ]?)?\#?\d
    | pypi\.or[g] | pythonhosted\.or[g] | npmjs\.co[m] | crates\.i[o]""",
    re.VERBOSE | re.IGNORECASE,
)
LEFT_FOR_LATER = re.compile(r"\b(TOD[O]|FIXM[E]|XX[X])\b|NotImplementedErro[r]")


def _lines_with(pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{name_of(path)}:{number}: {line.strip()}"
        for path, text in text_files()
        for number, line in enumerate(text.splitlines(), start=1)
        if pattern.search(line)
    ]


def test_no_file_mentions_what_lies_outside_the_repository() -> None:
    assert _lines_with(ELSEWHERE) == []


def test_nothing_is_left_for_later_in_the_code() -> None:
    assert _lines_with(LEFT_FOR_LATER) == []
