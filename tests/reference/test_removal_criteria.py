"""What takes an item out of use: numbers and lists as they are published."""

import math
import re
from math import floor

import pytest

from coursekit.rigging.gear import ITEM_KINDS
from coursekit.wear.inspection import Measure
from coursekit.wear.lists import LISTS, REGISTER_KINDS, InspectionList, list_for
from coursekit.wear.policy import COMMON_PRACTICE, InspectionOnly, default_policy
from tests.reference.sources import source

STRICTER = "the sources differ, and the list holds the stricter"


def measured(name: str, key: str) -> Measure:
    criterion = LISTS[name].criterion(key)
    assert criterion is not None
    assert criterion.measure is not None
    return criterion.measure


def sources_of(listed: InspectionList, *keys: str) -> list[str]:
    return [each.source for each in listed.criteria if each.key in keys]


@source("ASME B30.26-2010, 26-1.8.4: 10 % reduction of the original dimension, second-hand")
def test_a_shackle_goes_once_a_tenth_of_a_dimension_is_lost() -> None:
    worn = measured("bow-shackle", "worn")

    assert not worn.removes((0.0190, 0.0172))
    assert worn.removes((0.0190, 0.0171))
    assert worn.removes((0.0200, 0.0180))


@source("EM 385-1-1, 15.E.07: throat opening increased by 5 %, at most 1/4 in (6 mm)")
def test_a_hook_goes_once_its_throat_has_opened() -> None:
    throat = measured("hook", "throat")

    assert not throat.removes((0.0400, 0.0419))
    assert throat.removes((0.0400, 0.0420))
    # Of a wide hook 6 mm are less than 5 %.
    assert throat.removes((0.2000, 0.2060))
    assert not throat.removes((0.2000, 0.2059))


@source("29 CFR 1910.184(f)(5)(vi): hooks opened more than 15 %, from memory")
@pytest.mark.parametrize("as_new", [0.020, 0.040, 0.120])
def test_a_hook_that_goes_by_the_wider_rule_goes_by_the_list(as_new: float) -> None:
    assert measured("hook", "throat").removes((as_new, as_new * 1.15))


@source("EM 385-1-1, 15.E.07: hooks with wear exceeding 10 %")
def test_a_hook_goes_once_a_tenth_is_worn() -> None:
    assert measured("hook", "worn").removes((0.010, 0.009))
    assert not measured("hook", "worn").removes((0.010, 0.0091))


@source("29 CFR 1910.184(f)(5)(i): ten broken wires in one lay, or five in one strand in one lay")
def test_a_wire_sling_goes_with_ten_wires_of_a_lay_or_five_of_a_strand() -> None:
    lay, strand = measured("bridle-of-wire", "lay"), measured("bridle-of-wire", "strand")

    assert [lay.removes((number,)) for number in (9, 10)] == [False, True]
    assert [strand.removes((number,)) for number in (4, 5)] == [False, True]


@source("ASME B30.7-2011, running ropes: 6 in a lay, 3 in a strand, 2 at an end, second-hand")
def test_a_winch_line_of_wire_goes_by_the_winch_standard() -> None:
    keys = {"lay": 6, "strand": 3, "end": 2}
    for key, number in keys.items():
        measure = measured("winch-line-of-wire", key)

        assert [measure.removes((n,)) for n in (number - 1, number)] == [False, True]


@source("30 CFR 77.1437(a): more than one broken wire at an attachment")
def test_a_wire_line_goes_with_more_than_one_broken_wire_at_its_end() -> None:
    assert measured("winch-line-of-wire", "end").removes((2,))


@source("30 CFR 56.19024(g): diameter reduced by more than six percent")
def test_a_wire_rope_goes_once_it_is_six_percent_thinner() -> None:
    diameter = measured("winch-line-of-wire", "diameter")

    assert not diameter.removes((0.0100, 0.0095))
    assert diameter.removes((0.0100, 0.0094))


@source("OCIMF, Mooring Equipment Guidelines, 2nd edition: more than about 10 % of cover strands")
def test_a_braided_rope_goes_once_a_tenth_of_its_cover_strands_are_cut() -> None:
    strands = measured("kinetic-rope", "strands")

    assert not strands.removes((3.0, 32.0))
    assert strands.removes((4.0, 32.0))


@source("OCIMF, Mooring Equipment Guidelines, 2nd edition: abrasion of more than about 5 %")
@pytest.mark.parametrize("name", ["kinetic-rope", "winch-line", "extension-line"])
def test_a_fibre_rope_goes_once_a_twentieth_of_its_diameter_is_gone(name: str) -> None:
    assert not measured(name, "diameter").removes((0.0220, 0.0210))
    assert measured(name, "diameter").removes((0.0220, 0.0209))


@source("29 CFR 1910.184(i)(9) and 1926.251(e)(8): burns, melting, snags to cuts, stitches")
@pytest.mark.parametrize("kind", ["tree-strap", "tow-strap", "kinetic-strap", "bridle"])
def test_webbing_goes_by_each_line_of_the_regulation(kind: str) -> None:
    told = sources_of(list_for(kind), "chemical", "heat", "cut", "stitches")

    assert len(told) == 4
    assert all("1910.184(i)(9)" in each for each in told)


# Table N-184-1 of 29 CFR 1910.184, from memory: chain size and least size of a link, in.
LEAST_LINK = {
    1 / 4: 13 / 64,
    3 / 8: 19 / 64,
    1 / 2: 25 / 64,
    5 / 8: 31 / 64,
    3 / 4: 19 / 32,
    7 / 8: 45 / 64,
    1.0: 13 / 16,
}


@source(f"29 CFR 1910.184, table N-184-1, from memory; {STRICTER}")
@pytest.mark.parametrize(("size", "least"), LEAST_LINK.items())
def test_a_chain_goes_before_a_link_is_down_to_the_table(size: float, least: float) -> None:
    worn = measured("chain", "worn")

    assert worn.removes((size, least))
    # EN 818-6, from memory: the mean of two diameters down to 90 %.
    assert worn.removes((size, 0.9 * size))
    assert not worn.removes((size, 0.905 * size))


@pytest.mark.parametrize("kind", REGISTER_KINDS)
def test_every_kind_of_the_register_has_a_list_with_a_source_at_each_line(kind: str) -> None:
    listed = list_for(kind)
    keys = [each.key for each in listed.criteria]

    assert len(keys) == len(set(keys)) >= 5
    assert len(listed.each_use) >= 3
    assert all(each.source and each.text for each in listed.criteria)


@source(
    "29 CFR 1926.251(e)(7): nylon and polyester webbing not above 180 deg F (82.2 deg C), "
    "polypropylene not above 200 deg F (93.33 deg C)"
)
@pytest.mark.parametrize("kind", ["tree-strap", "tow-strap", "kinetic-strap", "roundsling"])
def test_webbing_that_was_too_hot_goes(kind: str) -> None:
    hot = list_for(kind).criterion("hot")
    assert hot is not None
    told = {scale: [int(n) for n in re.findall(rf"(\d+) °{scale}", hot.text)] for scale in "CF"}

    assert told == {"C": [82, 93], "F": [180, 200]}
    # Rounded down from the Fahrenheit that is published.
    assert [floor((degrees - 32) / 1.8) for degrees in told["F"]] == told["C"]
    assert "29 CFR 1926.251(e)(7)" in hot.source


@pytest.mark.parametrize("kind", ["winch", "fairlead", "pin", "recovery-point"])
def test_what_stays_on_a_vehicle_is_listed_beside_the_gear_of_scenarios(kind: str) -> None:
    assert kind not in ITEM_KINDS
    assert default_policy(kind).counting == InspectionOnly()


@pytest.mark.parametrize("kind", ["soft-shackle", "line-damper"])
def test_what_no_standard_tells_says_so(kind: str) -> None:
    own = [each for each in list_for(kind).criteria if each.key not in ("doubt", "maker")]

    assert {each.source for each in own} == {COMMON_PRACTICE}


@pytest.mark.parametrize(
    ("kind", "material", "name"),
    [
        ("winch-line", "wire", "winch-line-of-wire"),
        ("extension-line", "Galvanised wire rope", "extension-line-of-wire"),
        ("winch-line", "synthetic", "winch-line"),
        ("winch-line", "steel cable", "winch-line-of-wire"),
        ("winch-line", None, "winch-line-of-any"),
        ("extension-line", "blue", "extension-line-of-any"),
        ("bridle", "Polyester webbing", "bridle"),
        ("bridle", "steel", "bridle-of-any"),
        ("bridle", "grade 8 chain", "bridle-of-chain"),
        ("bow-shackle", "wire", "bow-shackle"),
    ],
)
def test_the_list_goes_by_what_the_item_is_made_of(
    kind: str, material: str | None, name: str
) -> None:
    assert list_for(kind, material).name == name


@pytest.mark.parametrize("kind", ["winch-line", "extension-line", "bridle"])
def test_the_list_of_what_nobody_knows_leaves_no_line_out(kind: str) -> None:
    kinds = [name for name in LISTS if name.startswith(kind) and not name.endswith("-of-any")]
    told = {(each.text, each.measure) for each in list_for(kind).criteria}

    assert len(kinds) >= 2
    for name in kinds:
        assert {(each.text, each.measure) for each in LISTS[name].criteria} <= told


def test_no_measure_lets_an_endless_size_through() -> None:
    measures = [each.measure for listed in LISTS.values() for each in listed.criteria]

    for measure in filter(None, measures):
        assert measure.wrong_size((math.inf,) * len(measure.names)) is not None
