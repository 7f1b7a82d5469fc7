"""The search for every safe rig that the gear at hand and the site allow.

========================  ====================================================
search                    `safe_rigs(situation)`: layouts, their bound, the list
stations, materials       where a line may go, and what it may be made of
stock                     the gear at hand, alike items taken together
pattern                   a layout with its slots, before gear stands in them
forces                    the loads of a layout, by the steps that `solve` folds
fits, assignment          what may stand in a slot; which item goes where
candidate, hunt           the best rig of one layout, confirmed by `solve`
found                     a rig that was found, and how it is ranked
changes                   what single change would make an unsafe situation safe
========================  ====================================================
"""

from coursekit.rigging.search.changes import Change, single_changes
from coursekit.rigging.search.found import FoundRig, Search
from coursekit.rigging.search.search import MOST_SOLVES, safe_rigs

__all__ = ["MOST_SOLVES", "Change", "FoundRig", "Search", "safe_rigs", "single_changes"]
