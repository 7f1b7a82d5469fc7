"""A policy survives being stored."""

import json

from hypothesis import given
from hypothesis import strategies as st

from coursekit.rigging.gear import ITEM_KINDS
from coursekit.store.policies import policy_json, policy_of
from coursekit.wear.policy import (
    ClassesPolicy,
    InspectionOnly,
    Policy,
    PowerPolicy,
    default_policy,
)

sizes = st.floats(1e-3, 1e6)
countings = st.one_of(
    st.builds(InspectionOnly, heavy_from=sizes),
    st.builds(ClassesPolicy, limit=sizes, heavy_from=sizes, light=sizes, heavy=sizes),
    st.builds(PowerPolicy, sizes, sizes, sizes, sizes, sizes),
)
maybe = st.none() | st.integers(1, 120)


@given(st.builds(Policy, countings, maybe, maybe, maybe, st.booleans(), st.integers(0, 600)))
def test_any_policy_is_the_same_after_it_was_stored(policy: Policy) -> None:
    assert policy_of(json.loads(json.dumps(policy_json(policy)))) == policy


def test_every_default_is_the_same_after_it_was_stored() -> None:
    for kind in ITEM_KINDS:
        assert policy_of(policy_json(default_policy(kind))) == default_policy(kind)
