"""The safe rigs of a scenario as plain text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coursekit.cli.numbers import Numbers
from coursekit.cli.report import CAUTION, Voice, per_cent, wrapped
from coursekit.rigging.rig import Line, Piece
from coursekit.rigging.search import Change, FoundRig, Search

LIMITS = (
    "Searched: winch lines with up to three pulleys and two extensions, tows, kinetic pulls and "
    "holding lines of up to two parts. A basket is reckoned at 60 deg between its legs, a run-up "
    "at 10 % above the lowest speed that breaks out. Each rig listed was solved, and nothing in "
    "it is critical; see what solve says of it before anyone builds it."
)


def rigs_report(
    numbers: Numbers, search: Search, listed: Sequence[FoundRig], changes: Sequence[Change]
) -> str:
    """Return the report of a search: what was found, best first, and its limits.

    Where nothing was found, `changes` are those that would each make a rig safe.
    """
    scenario = numbers.scenario
    voice = Voice(scenario)
    parts = [
        [f"{scenario.id}: {scenario.title}", str(numbers)],
        wrapped(_summary(search, listed), ""),
        *([] if search.rigs else [list(_changes(changes, voice))]),
        *(list(_rig(number, found, voice)) for number, found in enumerate(listed, start=1)),
        wrapped(LIMITS, ""),
        wrapped(CAUTION, ""),
    ]
    return "\n\n".join("\n".join(part) for part in parts)


def _summary(search: Search, listed: Sequence[FoundRig]) -> str:
    found = len(search.rigs)
    if not found:
        said = f"NO SAFE RIG among {_counted(search.examined, 'layout')}."
    else:
        said = f"{_counted(found, 'safe layout')} of {search.examined} examined, best first."
    if len(listed) < found:
        said += f" {len(listed)} listed."
    if not search.is_complete:
        said += " The search is bounded and left some out: there may be more."
    return said


def _changes(changes: Sequence[Change], voice: Voice) -> Iterator[str]:
    if not changes:
        yield "No single change that was tried makes a rig safe."
        return
    yield "Each of these changes by itself would make a rig safe, as solving it shows:"
    for change in changes:
        said = f"- {change.message.shown(voice.value)} [{change.proof.kind}, "
        yield from wrapped(f"{said}worst use {per_cent(change.proof.worst_use)}]", "  ")


def _rig(number: int, found: FoundRig, voice: Voice) -> Iterator[str]:
    ways = _counted(found.assignments, "way")
    yield from wrapped(f"{number}. {found.kind}: {_figures(found, voice)}", "")
    for line in found.rig.lines:
        yield from wrapped(" -> ".join(_stations(line)), "   ")
        yield from wrapped(f"made of {', '.join(line.made_of)}{_dampers(line)}", "     ")
    yield f"     {_counted(found.pieces, 'piece')}, {ways} to choose its gear{_stall(found)}"


def _figures(found: FoundRig, voice: Voice) -> str:
    weakest = found.solution.weakest
    word = "pull" if found.rig.method == "winch" else "design load"
    said = [f"{word} {voice.value(found.load, 'N', 'up')}"]
    if found.speeds is not None:
        said += [_speeds(found, voice)]
    if weakest is not None:
        said += [f"worst use {per_cent(weakest.use)} ({weakest.item})"]
    said += [f"{voice.value(found.line_left, 'm', 'down')} of line left"]
    return ", ".join(said)


def _speeds(found: FoundRig, voice: Voice) -> str:
    lowest, highest = found.speeds or (None, None)
    planned = voice.value(found.rig.speed, "m/s", "nearest")
    window = f"{voice.value(lowest, 'm/s', 'up')} to {voice.value(highest, 'm/s', 'down')}"
    return f"at {planned} (safe and enough: {window})"


def _stations(line: Line) -> Iterator[str]:
    yield _joined(line.start, line.joined_with)
    for pulley in line.pulleys:
        yield _joined(pulley.at, (*pulley.joined_with, Piece(pulley.by)))
    yield _joined(line.to.at, line.to.joined_with)


def _joined(at: str, pieces: Sequence[Piece]) -> str:
    return f"{at} [{', '.join(_piece(piece) for piece in pieces)}]" if pieces else at


def _piece(piece: Piece) -> str:
    return piece.item if piece.hitch == "straight" else f"{piece.item} {piece.hitch}"


def _dampers(line: Line) -> str:
    holds = "; holds the vehicle back" if line.role == "hold" else ""
    return f"{'; damper ' if line.dampers else ''}{', '.join(line.dampers)}{holds}"


def _stall(found: FoundRig) -> str:
    return "" if found.holds_at_stall else "; gear passes its limit should the winch stall"


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"
