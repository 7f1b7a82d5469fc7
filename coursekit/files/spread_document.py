"""What becomes of a rig over the spread of its estimates, as the JSON of `solve --spread`."""

from __future__ import annotations

from typing import Any

from coursekit.files.solution_document import plain
from coursekit.rigging.spread import SHARES, Uncertainty

SPREAD_SEED = 1
"""The samples of every report and page are drawn with it, so that they agree."""


def spread_document(found: Uncertainty) -> dict[str, Any]:
    """Return loads in N and shares of the cases as plain data."""
    return {
        "samples": found.samples,
        "seed": found.seed,
        "percentiles": list(SHARES),
        "loads": {
            reach.key: [plain(reach.low), plain(reach.middle), plain(reach.high)]
            for reach in found.reaches
        },
        "passing": [
            {"item": passing.item, "at": passing.at, "share": passing.share}
            for passing in found.passing
        ],
        "matters": dict(found.matters),
        "unsafe": found.unsafe,
        "stuck": found.stuck,
    }
