"""A kinetic pull by its equations of motion.

m1 x1'' = P - T, and m2 x2'' = T - R while the stuck vehicle moves; T = k (x1 - x2).
The run begins when the rope comes taut and ends when it is slack again or, where it
stays taut, at the first trough of its tension.
"""

from collections.abc import Callable
from dataclasses import astuple, dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Pull:
    """A kinetic pull, with its inputs in the order of the formulas."""

    moving: float
    stuck: float
    speed: float
    stiffness: float
    resistance: float
    drive: float

    @property
    def inputs(self) -> tuple[float, float, float, float, float, float]:
        """The inputs as arguments."""
        moving, stuck, speed, stiffness, resistance, drive = astuple(self)
        return moving, stuck, speed, stiffness, resistance, drive

    def tension(self, state: Floats) -> Any:
        """Return the tension of a state (x1, x1', x2, x2')."""
        return self.stiffness * (state[0] - state[2])


@dataclass(frozen=True)
class CurvedPull(Pull):
    """A pull on a rope of any curve, tension from stretch; its `stiffness` says nothing."""

    curve: Callable[[Any], Any]

    def tension(self, state: Floats) -> Any:
        """Return the tension of a state (x1, x1', x2, x2')."""
        return self.curve(state[0] - state[2])


@dataclass
class Integration:
    """What the integrated motion did."""

    pull: Pull
    story: tuple[str, ...] = ()
    peak: float = 0.0
    pieces: list[tuple[float, float, Any]] = field(default_factory=list)

    @property
    def has_moved(self) -> bool:
        """Whether the stuck vehicle moved."""
        return "breaks out" in self.story

    @property
    def end(self) -> float:
        """When the run ended."""
        return self.pieces[-1][1]

    def tensions_at(self, times: Floats) -> Floats:
        """Return the tension at each time, by the integrator's own interpolation."""
        return np.array([self._tension_at(float(time)) for time in times])

    def _tension_at(self, time: float) -> float:
        inside = next((piece for piece in self.pieces if time <= piece[1]), self.pieces[-1])
        return float(self.pull.tension(inside[2](time)))


def integrate(pull: Pull) -> Integration:
    """Integrate a pull from taut to slack, or to the first trough."""
    run = Integration(pull)
    state, start, is_moving = np.array([0.0, pull.speed, 0.0, 0.0]), 0.0, pull.resistance == 0
    if is_moving:
        run.story = ("breaks out",)
    while not run.story or run.story[-1] in {"breaks out", "stops"}:
        state, start = _follow(run, state, start, is_moving=is_moving)
        is_moving = run.story[-1] == "breaks out"
        state[3] = state[3] if is_moving else 0.0
    return run


def _follow(
    run: Integration, state: Floats, start: float, *, is_moving: bool
) -> tuple[Floats, float]:
    """Integrate up to the next event, and add to the run what happened."""
    pull = run.pull
    switch = ("stops", _stops, -1) if is_moving else ("breaks out", _breaks_out(pull), 1)
    events = {"slack": (_stretch, -1), "trough": (_rate, 1), switch[0]: switch[1:]}
    solution = solve_ivp(
        _motion(pull, is_moving=is_moving),
        (start, start + 60.0),
        state,
        events=[_event(*event, ends=True) for event in events.values()]
        + [_event(_rate, -1, ends=False)],
        rtol=1e-11,
        atol=1e-12,
        max_step=0.02,
        dense_output=True,
    )
    ends = zip(events, solution.t_events[:-1], strict=True)
    run.story += (next(name for name, at in ends if at.size),)
    peaks = [float(pull.tension(peak)) for peak in solution.y_events[-1]]
    run.peak = max(run.peak, float(np.max(pull.tension(solution.y))), *peaks)
    run.pieces.append((start, float(solution.t[-1]), solution.sol))
    return solution.y[:, -1].copy(), float(solution.t[-1])


def _motion(pull: Pull, *, is_moving: bool) -> Callable[[float, Floats], list[float]]:
    def rates(_: float, state: Floats) -> list[float]:
        tension = pull.tension(state)
        stuck = (tension - pull.resistance) / pull.stuck if is_moving else 0.0
        return [state[1], (pull.drive - tension) / pull.moving, state[3], stuck]

    return rates


def _stretch(state: Floats) -> Any:
    return state[0] - state[2]


def _rate(state: Floats) -> Any:
    # The offset keeps a standing start, where the rate is 0, from passing for a trough.
    return state[1] - state[3] + 1e-10


def _stops(state: Floats) -> Any:
    return state[3]


def _breaks_out(pull: Pull) -> Callable[[Floats], Any]:
    return lambda state: pull.tension(state) - pull.resistance


def _event(of: Callable[[Floats], Any], direction: int, *, ends: bool) -> Any:
    def event(_: float, state: Floats) -> Any:
        return of(state)

    marked: Any = event
    marked.terminal, marked.direction = ends, direction
    return marked
