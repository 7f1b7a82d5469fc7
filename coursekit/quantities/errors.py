"""What can be wrong with a quantity that a person typed, and how to mend it."""

from __future__ import annotations

from coursekit.problems import CoursekitError, Problem, Where

SHOWN = 40
"""How much of a text an error repeats: what was typed may be a page long."""


class QuantityError(CoursekitError, ValueError):
    """A text that is not the quantity that was asked for.

    >>> print(QuantityError("x", '"x" is not a number', "Write for example 6.4 kN"))
    "x" is not a number. Write for example 6.4 kN.
    """

    def __init__(self, text: str, what: str, mend: str) -> None:
        self.text = text
        self.what = what
        self.mend = mend
        super().__init__(text, what, mend)

    def __str__(self) -> str:
        return f"{self.what}. {self.mend}."

    def problem(self, where: Where) -> Problem:
        """Return the error as a problem of the field that holds the text."""
        return Problem(where, self.what, self.mend)


class NotANumber(QuantityError):
    """The text does not begin with a number that can be read."""


class TooLong(QuantityError):
    """The text is longer than any quantity."""


class AmbiguousNumber(QuantityError):
    """The number reads in two ways: a comma for thousands, or for decimals."""


class MissingUnit(QuantityError):
    """A number stands alone, and its unit is not to be guessed."""


class UnknownUnit(QuantityError):
    """The unit is not one that people use for such a quantity."""


class AmbiguousTon(QuantityError):
    """A bare ton is a tonne, a short ton or a long ton."""


class WrongDimension(QuantityError):
    """The unit belongs to another kind of quantity."""


class OutOfBounds(QuantityError):
    """The value is beyond anything that can be meant."""


def quoted(text: str) -> str:
    """Return the text in quotes, without what can't be printed, cut to a line.

    >>> quoted("6.4" + chr(0) + " kN")
    '"6.4 kN"'
    """
    clean = "".join(c for c in text[: SHOWN + 1] if c.isprintable())
    return f'"{clean[:SHOWN]}…"' if len(text) > SHOWN else f'"{clean}"'
