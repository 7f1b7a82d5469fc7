"""A pull along one straight line: a tow, and the share of it that a snatch also needs."""

from __future__ import annotations

from coursekit.mechanics import anchor as hold_rules
from coursekit.mechanics import resistance, tow
from coursekit.mechanics.elementary import acos
from coursekit.rigging.chains.ground import ground_steps
from coursekit.rigging.plan import (
    NO_COMPONENT,
    LinePlan,
    bearing_of,
    dot,
    off_uphill,
    scaled,
    unit_vector,
)
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Slip, Step, Term, Values

SHARE = "share of the pull along the exit"


def straight_pull_steps(situation: Situation, plan: LinePlan) -> tuple[Step, ...]:
    """Return the steps from the resistance to the force along a line off the exit."""
    toward = scaled(plan.directions[0], -1.0)
    along = dot(toward, unit_vector(situation.stuck.exit or 0.0))
    off_line = acos(max(-1.0, min(1.0, along)))
    source = "component along the exit; statics"
    beta = Term("beta", "angle of the line off the exit", "rad", off_line)
    return (
        *(
            Step(
                key,
                SHARE,
                symbol,
                "-",
                "cos(beta)",
                source,
                lambda _v: along,
                rounds="down",
                expression="cos({beta})",
                terms=(beta,),
            )
            for key, symbol in (("advantage.ideal", "MA"), ("advantage.actual", "A"))
        ),
        Step(
            "pull",
            "force along the line",
            "F",
            "N",
            "F = R / cos(beta)",
            source,
            lambda v: (
                tow.tow_pull(v["resistance.total"], off_line) if along > NO_COMPONENT else None
            ),
            ("resistance.total",),
            _angle_slips(along),
            expression="{resistance.total} / cos({beta})",
            terms=(beta,),
        ),
    )


def _angle_slips(along: float) -> tuple[Slip, ...]:
    if along > 1.0 - 1e-9:
        return ()
    return (
        Slip(
            "angle-left-out",
            "the angle off the exit left out",
            lambda v: v["resistance.total"],
            "{given} would do straight along the exit; off it the line needs {truth}.",
            PART_LEFT_OUT,
        ),
        Slip(
            "multiplied-by-cosine",
            "multiplied by the cosine instead of divided",
            lambda v: v["resistance.total"] * along,
            "Off the exit the line needs more, not less, {given}: divide by the cosine, which "
            "gives {truth}.",
            DANGEROUS,
        ),
    )


def tow_steps(situation: Situation, plan: LinePlan) -> tuple[Step, ...]:
    """Return the steps of a tow: pull, design load, and what the tyres must hold."""
    allowance = situation.policy.tow_allowance
    recovery = situation.recovery
    grip = situation.grip(recovery) if recovery else 0.0
    return (
        Step(
            "tow.pull",
            "pull of the tow",
            "F_t",
            "N",
            "F_t = R / cos(beta)",
            "component along the exit; statics",
            lambda v: v["pull"],
            ("pull",),
            expression="{pull}",
        ),
        Step(
            "tow.design",
            "design load of the tow",
            "F_d",
            "N",
            "F_d = {allowance} F_t",
            "allowance for jerks: common practice, no source",
            lambda v: v["tow.pull"] * allowance,
            ("tow.pull",),
            (
                Slip(
                    "allowance-left-out",
                    "the allowance on the load left out",
                    lambda v: v["tow.pull"],
                    "{given} is the steady pull; limits are held against the design load, {truth}.",
                    PART_LEFT_OUT,
                ),
            ),
            words={"allowance": f"{allowance:g}"},
            expression=f"{allowance:g} * {{tow.pull}}",
        ),
        *_own_steps(situation, plan),
        Step(
            "tow.need",
            "what the tyres of the recovery vehicle must give",
            "F_n",
            "N",
            "tow pull + its own grade + its own rolling",
            "balance of the recovery vehicle along the line",
            lambda v: tow.towing_need(v["tow.pull"], v["tow.own_grade"], v["tow.own_rolling"]),
            ("tow.pull", "tow.own_grade", "tow.own_rolling"),
            (
                Slip(
                    "own-resistance-left-out",
                    "the recovery vehicle's own resistance left out",
                    lambda v: v["tow.pull"],
                    "{given} is what the towed vehicle needs; the tyres in front move their own "
                    "vehicle as well, {truth} in all.",
                    DANGEROUS,
                ),
            ),
            expression="{tow.pull} + {tow.own_grade} + {tow.own_rolling}",
        ),
        Step(
            "tow.grip",
            "what its tyres can hold",
            "mu N",
            "N",
            "grip x W cos(theta)",
            "Coulomb friction; grip by surface after Noon 1994 where the scenario gives none",
            lambda v: hold_rules.grip_capacity(v["recovery_weight"], v["slope"], grip),
            ("recovery_weight", "slope"),
            (
                Slip(
                    "weight-for-grip",
                    "the weight taken for what the tyres hold",
                    lambda v: v["recovery_weight"],
                    "{given} is the weight of the recovery vehicle; its tyres hold a share of "
                    "it, {truth}.",
                    DANGEROUS,
                ),
            ),
            rounds="down",
            limits="all wheels on the same ground, braked or driven together",
            expression="{mu} * {recovery_weight} * cos({slope})",
            terms=(Term("mu", "grip of the tyres", "-", grip, "down"),),
        ),
    )


def _own_steps(situation: Situation, plan: LinePlan) -> tuple[Step, ...]:
    way = bearing_of(scaled(plan.directions[0], -1.0))
    off_way = off_uphill(way, situation.ground.downhill)
    by_key = {step.key: step for step in ground_steps(situation.method)}

    def own(values: Values) -> dict[str, float]:
        return {
            "weight": values["recovery_weight"],
            "slope": values["slope"],
            "coefficient": values["coefficient"],
            "exit_off_uphill": off_way,
            "bogging_factor": 0.0,
        }

    return (
        Step(
            "tow.own_grade",
            "slope resistance of the recovery vehicle",
            "R_g1",
            "N",
            by_key["resistance.grade"].formula,
            by_key["resistance.grade"].source,
            lambda v: by_key["resistance.grade"].value(own(v)),
            ("recovery_weight", "slope"),
            expression=lambda v: _of_its_own(by_key["resistance.grade"].put_in(own(v))),
            terms=(Term("phi_1", "angle of its way off straight uphill", "rad", off_way),),
        ),
        Step(
            "tow.own_rolling",
            "rolling resistance of the recovery vehicle",
            "R_r1",
            "N",
            by_key["resistance.rolling"].formula,
            by_key["resistance.rolling"].source,
            lambda v: by_key["resistance.rolling"].value(own(v)),
            ("recovery_weight", "slope", "coefficient"),
            expression=lambda v: _of_its_own(by_key["resistance.rolling"].put_in(own(v))),
        ),
    )


def _of_its_own(expression: str) -> str:
    """Return an expression of the stuck vehicle with the data of the recovery vehicle in place."""
    return expression.replace("{weight}", "{recovery_weight}").replace(
        "{exit_off_uphill}", "{phi_1}"
    )


def recovery_weight(situation: Situation) -> float | None:
    """Return the weight of the recovery vehicle, None where there is none."""
    recovery = situation.recovery
    return None if recovery is None else resistance.weight(recovery.mass)
