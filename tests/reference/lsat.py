"""Sections 6 and 7 of the LSAT: 1,000 persons, 5 items, as counts of answer patterns.

Bock and Lieberman, Psychometrika 35 (1970), pp. 179-197; the counts as the R package
psych carries them (bock.table).
"""

import numpy as np
from numpy.typing import NDArray

# Patterns 00000, 00001, … 11111 (item 1 first).
_SECTION_6 = "3 6 2 11 1 1 3 4 1 8 0 16 0 3 2 15 10 29 14 81 3 28 15 80 16 56 21 173 11 61 28 298"
_SECTION_7 = "12 19 1 7 3 19 3 17 10 5 3 7 7 23 8 28 7 39 11 34 14 51 15 90 6 25 7 35 18 136 32 308"


def _persons(counts: str) -> NDArray[np.float64]:
    patterns = [[float(digit) for digit in f"{number:05b}"] for number in range(32)]
    return np.repeat(np.array(patterns), [int(count) for count in counts.split()], axis=0)


SECTION_6 = _persons(_SECTION_6)
SECTION_7 = _persons(_SECTION_7)
EACH_ONE_MARK = np.ones(5)
