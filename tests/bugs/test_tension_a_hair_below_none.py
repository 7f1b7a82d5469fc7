"""The root of a swing was sought a hair below no tension, and the history ended in an error."""

from coursekit.mechanics.rope import PowerLaw
from coursekit.mechanics.stiff_snatch import StiffSnatch


def test_a_light_snatch_on_a_strong_rope_has_a_history() -> None:
    law = PowerLaw(259339.38671875, 0.5, 2.015625, 1.0)
    _times, tensions = StiffSnatch(300.0, 300.0, 1.0, law, 0.0, 0.0).history()

    assert min(tensions) >= 0.0
    assert max(tensions) > 0.0
