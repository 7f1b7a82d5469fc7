"""What removes an item from use, kind by kind, each line with its source.

Where sources differ the stricter number stands.  Where none is known the line says so.
The maker's instructions, local codes and a competent person go before every list.
"""

from __future__ import annotations

from coursekit.wear.inspection import Criterion, Measure, Way
from coursekit.wear.policy import COMMON_PRACTICE

_OSHA_WEB = "29 CFR 1910.184(i)(9) and 1926.251(e)(8)"
_OSHA_WIRE = "29 CFR 1910.184(f)(5)"
_OSHA_HOT = "29 CFR 1926.251(e)(7): not to be used above that"
_OSHA_HOT_ROUND = "common practice, after 29 CFR 1926.251(e)(7) for web slings"
_WEB = "ASME B30.9, 9-5.9.5, second-hand"
_ROUND = "ASME B30.9, 9-6.9.5, second-hand"
_SLING_WIRE = "ASME B30.9, 9-2.9.5, second-hand"
_SLING_CHAIN = "ASME B30.9, chain slings, second-hand"
_SHACKLE = "ASME B30.26-2010, 26-1.8.4, second-hand"
_BLOCK = "ASME B30.26, chapter 26-5, from memory"
_BLOCK_LAW = "WAC 296-54-54750"
_HOOK = "EM 385-1-1, 15.E.07; 15 % of throat opening in 29 CFR 1910.184(f)(5)(vi), from memory"
_HOOK_LATCH = "ASME B30.10, from memory"
_ROPE = "OCIMF, Mooring Equipment Guidelines, 2nd edition"
_MINE = "30 CFR 56.19024"
_WINCH_WIRE = "ASME B30.7-2011, second-hand; slings 10 and 5, 29 CFR 1910.184(f)(5)(i)"
_WIRE_END = "ASME B30.7-2011, second-hand; 30 CFR 77.1437(a)"
_CHAIN_WEAR = "EN 818-6, from memory; table N-184-1 of 29 CFR 1910.184 allows about 20 %"
_STRETCH = "US Army TB 55-1900-232-10"
_LIKE_SHACKLE = "common practice, after the tenth of ASME B30.26, 26-1.8.4"
_MAKER = "the maker's instructions"

DOUBT = Criterion(
    "doubt",
    "Anything else that makes you doubt it",
    "ASME B30.9 and B30.26, second-hand: other conditions that cause doubt",
    each_use=True,
)
MAKER = Criterion(
    "maker", "Anything that the maker's instructions name as a reason to remove it", _MAKER
)
LAST = (MAKER, DOUBT)

_HEAT_METAL = "Signs of heat: blue or straw colours, weld spatter, an arc strike"
_LABEL = "Its label is missing, or its rating can't be read"
_KNOT = "A knot in any part of it"
_HOT = "It has been hotter than 82 °C (180 °F), or 93 °C (200 °F) where it is of polypropylene"

WEBBING = (
    Criterion("label", _LABEL, _WEB, each_use=True),
    Criterion("cut", "Snagged, pierced, torn or cut anywhere", _OSHA_WEB, each_use=True),
    Criterion("stitches", "Stitches broken or worn", _OSHA_WEB, each_use=True),
    Criterion("heat", "Melted or charred anywhere", _OSHA_WEB, each_use=True),
    Criterion("hot", _HOT, _OSHA_HOT),
    Criterion("chemical", "Burnt by acid or caustic", _OSHA_WEB),
    Criterion("rubbed", "Much worn by rubbing", _WEB),
    Criterion("knot", _KNOT, _WEB, each_use=True),
    Criterion("sun", "Discoloured, brittle or stiff places, as from sun or chemicals", _WEB),
    Criterion("fittings", "Fittings pitted, corroded, cracked, bent, gouged or broken", _WEB),
)
GROWN = Criterion(
    "grown", "Longer at rest than when new, or its marks have moved apart: overload", _STRETCH
)
ROUNDSLING = (
    Criterion("label", _LABEL, _ROUND, each_use=True),
    Criterion(
        "cut",
        "Cover holed, torn, cut, snagged or rubbed so that core yarns show",
        _ROUND,
        each_use=True,
    ),
    Criterion("core", "Core yarns broken or damaged: feel for lumps and thin places", _ROUND),
    Criterion("heat", "Signs of heat, or weld spatter that lays core yarns bare", _ROUND,
              each_use=True),
    Criterion("hot", _HOT, _OSHA_HOT_ROUND),
    Criterion("chemical", "Burnt by acid or caustic", _ROUND),
    Criterion("knot", _KNOT, _ROUND, each_use=True),
    Criterion("fittings", "Fittings pitted, corroded, cracked, bent, gouged or broken", _ROUND),
)  # fmt: skip
_BRAID_ENDS = Criterion(
    "ends",
    "A splice slips, or an eye, thimble or lock stitching is worn or cut",
    COMMON_PRACTICE,
    each_use=True,
)
_ROPE_LINES = (
    Criterion("heat", "Fibres fused, melted or glazed", _ROPE, each_use=True),
    _BRAID_ENDS,
    Criterion("knot", _KNOT, _ROPE, each_use=True),
    Criterion("powder", "Powder between the strands, or fibre breaking up inside", _ROPE),
    Criterion("chemical", "Soaked with paint or thinner, or stained by rust or chemicals", _ROPE),
    Criterion(
        "diameter",
        "Rubbed thin: a twentieth or more of its solid diameter is gone",
        _ROPE,
        measure=Measure(Way.LOST, 0.05),
    ),
)
KINETIC_ROPE = (
    Criterion("label", _LABEL, COMMON_PRACTICE, each_use=True),
    Criterion(
        "strands",
        "A tenth or more of all cover strands cut, or the core seen",
        _ROPE,
        each_use=True,
        measure=Measure(Way.PART, 0.10),
    ),
    *_ROPE_LINES,
    GROWN,
)
# One strand of twelve is less than a tenth: on a line without a cover any cut one counts.
SYNTHETIC_LINE = (
    Criterion("strands", "A strand cut through or broken", COMMON_PRACTICE, each_use=True),
    Criterion("strand-worn", "One strand worn by 15 % of its area or more", _ROPE),
    *_ROPE_LINES,
)
_WIRE_LINES = (
    Criterion("outer", "Outside wires worn by a third of their diameter or more", _OSHA_WIRE),
    Criterion(
        "diameter",
        "The rope is thinner by 6 % or more",
        _MINE,
        measure=Measure(Way.LOST, 0.06),
    ),
    Criterion(
        "shape", "Kinked, crushed, bird-caged or out of shape", _OSHA_WIRE, each_use=True
    ),
    Criterion("heat", _HEAT_METAL, _OSHA_WIRE, each_use=True),
    Criterion("fittings", "End fittings cracked, out of shape or worn", _OSHA_WIRE, each_use=True),
    Criterion("corrosion", "Rope or end fittings corroded", _OSHA_WIRE),
)  # fmt: skip
WIRE_LINE = (
    Criterion(
        "lay",
        "6 or more broken wires in one lay",
        _WINCH_WIRE,
        each_use=True,
        measure=Measure(Way.COUNT, 6),
    ),
    Criterion(
        "strand",
        "3 or more broken wires in one strand in one lay",
        _WINCH_WIRE,
        each_use=True,
        measure=Measure(Way.COUNT, 3),
    ),
    Criterion(
        "end",
        "2 or more broken wires at an end fitting",
        _WIRE_END,
        measure=Measure(Way.COUNT, 2),
    ),
    *_WIRE_LINES,
)
WIRE_SLING = (
    Criterion("label", _LABEL, _SLING_WIRE, each_use=True),
    Criterion(
        "lay",
        "10 or more broken wires in one lay",
        _OSHA_WIRE,
        each_use=True,
        measure=Measure(Way.COUNT, 10),
    ),
    Criterion(
        "strand",
        "5 or more broken wires in one strand in one lay",
        _OSHA_WIRE,
        each_use=True,
        measure=Measure(Way.COUNT, 5),
    ),
    *_WIRE_LINES,
)
SHACKLE = (
    Criterion("label", "The maker's mark or the rated load can't be read", _SHACKLE, each_use=True),
    Criterion(
        "shape",
        "Bent, twisted, stretched, cracked or broken, body or pin",
        _SHACKLE,
        each_use=True,
    ),
    Criterion("pin", "The pin is missing, not its own, or doesn't seat", _SHACKLE, each_use=True),
    Criterion("threads", "Threads damaged", _SHACKLE, each_use=True),
    Criterion(
        "worn",
        "A tenth or more of an original dimension gone at any point of body or pin",
        _SHACKLE,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("gouged", "Deep nicks or gouges", _SHACKLE),
    Criterion("corrosion", "Deeply pitted or corroded", _SHACKLE),
    Criterion("heat", _HEAT_METAL, _SHACKLE),
    Criterion("changed", "Welded on, ground or changed in any way", _SHACKLE),
)
SOFT_SHACKLE = (
    Criterion("label", _LABEL, COMMON_PRACTICE, each_use=True),
    Criterion("cut", "A strand cut, pulled out or broken", COMMON_PRACTICE, each_use=True),
    Criterion("knot", "The stopper knot is loose, flat or turned", COMMON_PRACTICE, each_use=True),
    Criterion("tails", "A buried tail has come out or grown short", COMMON_PRACTICE, each_use=True),
    Criterion("heat", "Melted, glazed or hard places", COMMON_PRACTICE, each_use=True),
    Criterion("rubbed", "Thin or fluffy where it bears", COMMON_PRACTICE),
    Criterion("chemical", "Stained, stiff or soaked by chemicals or fuel", COMMON_PRACTICE),
    Criterion("sun", "Faded and brittle from sun", COMMON_PRACTICE),
)
HOOK = (
    Criterion("label", "The rated load can't be read", _HOOK_LATCH, each_use=True),
    Criterion(
        "throat",
        "The throat has opened by 5 % or by 6 mm, whichever is less",
        _HOOK,
        measure=Measure(Way.GAINED, 0.05, most=0.006),
    ),
    Criterion("twist", "Any bend or twist that can be seen", _HOOK, each_use=True),
    Criterion(
        "worn",
        "A tenth or more of an original dimension worn away",
        _HOOK,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("cracked", "Cracked, nicked or gouged", _HOOK_LATCH, each_use=True),
    Criterion(
        "latch", "The latch is missing, bent or doesn't close", _HOOK_LATCH, each_use=True
    ),
    Criterion("corrosion", "Deeply pitted or corroded", _HOOK_LATCH),
    Criterion("heat", _HEAT_METAL, _HOOK_LATCH),
    Criterion("changed", "Welded on, ground or changed in any way", _HOOK_LATCH),
)  # fmt: skip
CHAIN = (
    Criterion("label", _LABEL, _SLING_CHAIN, each_use=True),
    Criterion(
        "links", "A link cracked, bent, twisted or stretched", _SLING_CHAIN, each_use=True
    ),
    Criterion(
        "worn",
        "A tenth or more of a link's thickness worn away",
        _CHAIN_WEAR,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("hinge", "Links don't hinge freely", _SLING_CHAIN),
    Criterion("gouged", "Nicks or gouges", _SLING_CHAIN),
    Criterion("corrosion", "Deeply pitted or corroded", _SLING_CHAIN),
    Criterion("heat", _HEAT_METAL, _SLING_CHAIN),
    Criterion(
        "fittings", "Its hooks or rings cracked, opened or out of shape", _SLING_CHAIN,
        each_use=True,
    ),
)  # fmt: skip
PULLEY_BLOCK = (
    Criterion("label", "Its rating or line size can't be read", _BLOCK, each_use=True),
    Criterion("sheave", "The sheave wobbles, is cracked or doesn't turn freely", _BLOCK_LAW,
              each_use=True),
    Criterion("groove", "The groove is worn, rough or sharp", _BLOCK_LAW, each_use=True),
    Criterion("cheeks", "Side plates bent, spread or cracked", _BLOCK_LAW, each_use=True),
    Criterion("fasteners", "Pins, nuts or keepers loose or missing", _BLOCK_LAW, each_use=True),
    Criterion(
        "worn",
        "A tenth or more of an original dimension gone where it bears",
        _BLOCK,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("corrosion", "Deeply pitted or corroded", _BLOCK),
    Criterion("heat", _HEAT_METAL, _BLOCK),
    Criterion("changed", "Welded on, ground or changed in any way", _BLOCK),
)  # fmt: skip
PULLEY_RING = (
    Criterion("label", _LABEL, COMMON_PRACTICE, each_use=True),
    Criterion("cracked", "Cracked anywhere", COMMON_PRACTICE, each_use=True),
    Criterion("groove", "Groove or bore nicked, rough or sharp", COMMON_PRACTICE, each_use=True),
    Criterion("shape", "Out of round, or dented", COMMON_PRACTICE, each_use=True),
    Criterion(
        "worn",
        "A tenth or more of an original dimension gone in groove or bore",
        _LIKE_SHACKLE,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("heat", "Signs of heat, or line melted into the groove", COMMON_PRACTICE),
    Criterion("corrosion", "Deeply pitted or corroded", COMMON_PRACTICE),
)
RECEIVER_MOUNT = (
    Criterion("label", _LABEL, COMMON_PRACTICE, each_use=True),
    Criterion("cracked", "A weld or the metal is cracked", COMMON_PRACTICE, each_use=True),
    Criterion("shape", "Bent, spread or twisted", COMMON_PRACTICE, each_use=True),
    Criterion(
        "pin", "The cross pin or its keeper is missing, bent or worn", COMMON_PRACTICE,
        each_use=True,
    ),
    Criterion("hole", "The pin hole is worn oval, or edges are sharp", COMMON_PRACTICE),
    Criterion(
        "worn",
        "A tenth or more of an original dimension gone in pin or eye",
        _LIKE_SHACKLE,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("corrosion", "Deeply pitted or corroded", COMMON_PRACTICE),
    Criterion("changed", "Welded on, ground or changed in any way", COMMON_PRACTICE),
)  # fmt: skip
GROUND_ANCHOR = (
    Criterion("label", _LABEL, COMMON_PRACTICE, each_use=True),
    Criterion("cracked", "A weld or the metal is cracked", COMMON_PRACTICE, each_use=True),
    Criterion("shape", "Blade, stakes or frame bent", COMMON_PRACTICE, each_use=True),
    Criterion(
        "worn",
        "A tenth or more of an original dimension gone where the line joins",
        _LIKE_SHACKLE,
        measure=Measure(Way.LOST, 0.10),
    ),
    Criterion("fasteners", "Pins, bolts or lashings loose or missing", COMMON_PRACTICE,
              each_use=True),
    Criterion("corrosion", "Deeply pitted or corroded", COMMON_PRACTICE),
)  # fmt: skip
LINE_DAMPER = (
    Criterion("torn", "Torn so that it may come off the line", COMMON_PRACTICE, each_use=True),
    Criterion("fastening", "Its fastening doesn't hold it on the line", COMMON_PRACTICE,
              each_use=True),
    Criterion("weight", "Its filling or weight has gone", COMMON_PRACTICE, each_use=True),
    Criterion("heat", "Burnt or melted", COMMON_PRACTICE),
)  # fmt: skip
