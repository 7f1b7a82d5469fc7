"""What a student is told, as an instructor would say it, with their own numbers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coursekit.assessment.replies import QuantityReply, Reading
from coursekit.problems import Message, Show
from coursekit.rigging.steps import SlipValue, Step, Values


@dataclass(frozen=True)
class Voice:
    """How the numbers of one step are worded."""

    show: Show
    step: Step

    def number(self, value: object, step: Step | None = None) -> str:
        """Return a value of a step as text, rounded to the step's safe side."""
        of = step or self.step
        if not isinstance(value, int | float):
            return "no value"
        return self.show(float(value), of.unit, of.rounds)


def note(reply: QuantityReply) -> Iterator[Message]:
    """Yield how the typed text was read, where that is not plain from it."""
    if reply.note:
        yield Message("{note}.", {"note": reply.note})


def right(voice: Voice, truth: float, *, flagged: bool) -> Message:
    """Word a right answer."""
    if flagged:
        return Message(
            "Right: {truth}. An earlier step of yours differs, so look at both again.",
            {"truth": voice.number(truth)},
        )
    return Message("Right: {truth}.", {"truth": voice.number(truth)})


def carried(voice: Voice, truth: float, expected: float) -> Message:
    """Word an answer that follows from the student's own earlier answers."""
    return Message(
        "From your earlier answer {expected} follows, so this earns its marks. "
        "From the given data it is {truth}.",
        {"expected": voice.number(expected), "truth": voice.number(truth)},
    )


def unit(voice: Voice, reply: QuantityReply, fits: list[Reading], met: float) -> Message:
    """Word a number that is right in another unit; `met` is the value that it comes to."""
    return Message(
        "The number is right in {units}, and you wrote {text}. It is {met}.",
        {
            "units": " or ".join(reading.unit for reading in fits),
            "text": reply.text.strip(),
            "met": voice.number(met),
        },
    )


def given_data(voice: Voice, truth: float) -> Message:
    """Word the truth beside what was said of the student's own earlier answers."""
    return Message("From the given data it is {truth}.", {"truth": voice.number(truth)})


def slip(voice: Voice, found: SlipValue, values: Values) -> Iterator[Message]:
    """Word one slip that the answer is consistent with, with the values that it was met on."""
    of = found.step
    here = of.key == voice.step.key
    slipped = found.value if here else of.slipped(found.slip, values)
    yield Message("Consistent with: {name}.", {"name": found.slip.title})
    yield Message(
        found.slip.text,
        {
            "given": voice.number(slipped, of),
            "truth": voice.number(values[of.key], of),
            "advantage": _plain(values.get("advantage.actual")),
            **found.slip.words,
        },
    )
    if not here:
        yield Message(
            "Carried on, that leads to {given} in place of {truth}.",
            {
                "given": voice.number(found.value),
                "truth": voice.number(values[voice.step.key]),
            },
        )


def _plain(value: object) -> str:
    return f"{value:.3g}" if isinstance(value, float) else "none"


def wrong(voice: Voice, truth: float) -> Message:
    """Word an answer that meets nothing known."""
    return Message(
        "It is {truth}: {formula}.",
        {"truth": voice.number(truth), "formula": voice.step.working},
    )


def missing(voice: Voice, truth: float) -> Message:
    """Word an answer that was not given."""
    return Message("No answer. It is {truth}.", {"truth": voice.number(truth)})


NO_OWN_RIG = Message(
    "No rig of yours can be solved, so the given rig was taken; this earns nothing by itself."
)
NO_VALUE = Message("With this rig the quantity has no value.")
NOT_ANSWERED = Message("No answer.")
