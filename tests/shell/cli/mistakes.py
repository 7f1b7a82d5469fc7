"""What each paper of mistakes earns, as an instructor would reason it out, sum by sum."""

from __future__ import annotations

# Task: verdict, marks earned, and the mistake that must be named where there is one.
MISTAKES: dict[str, dict[str, tuple[str, float, str]]] = {
    "meadow-gate": {
        # Two of three found: 2/3 of 3 marks.
        "bin": ("part", 2, ""),
        # 6 % is an angle of 3.43 deg: 25.5 kN x 0.0599 = 1.53 kN, the dangerous side.
        "slope": ("slip", 0, "percent-for-degrees"),
        # 1.53 + 3.55 = 5.08 kN follows from it.
        "total": ("carried", 2, ""),
        # On the ball: it would come up, and nothing else counts.
        "build": ("part", 1, ""),
        # 44 kN is 4,487 kgf, and was written as kN.
        "limit": ("unit", 1, "unit-slip"),
        "use": ("missing", 0, ""),
        # Backwards: no pair stands right.
        "steps": ("wrong", 0, ""),
    },
    "wash-road": {
        # 0.33 x 6,000 x cos 10 deg = 1,950 lbf is the rolling share alone.
        "total": ("slip", 1, "grade-left-out"),
        # Ten feet too short: neither safe nor out.
        "build": ("wrong", 0, ""),
        # 90 + 10 - 7.5 = 92.5 ft are 28.2 m.
        "reach": ("unit", 1, "unit-slip"),
        "pull": ("carried", 1, ""),
        "layer": ("wrong", 0, ""),
        "weak": ("missing", 0, ""),
        # Five of six stand in order: 2 x 4/5 = 1.6, down to halves.
        "steps": ("part", 1.5, ""),
    },
    "landing-ramp": {
        "bin": ("missing", 0, ""),
        # 18.63 kN x 6/60 = 1.86 kN is the slope alone.
        "total": ("slip", 1, "rolling-left-out"),
        # 1.86 + 3.06 = 4.92 kN.
        "need": ("carried", 2, ""),
        # 8.875 kN are 905 kgf.
        "grip": ("unit", 1, "unit-slip"),
        "build": ("part", 1, ""),
        "jerk": ("wrong", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "snow-lane": {
        # 9,000 x 21/60 = 3,150 lbf is the slope alone.
        "total": ("slip", 1, "rolling-left-out"),
        "lines": ("wrong", 0, ""),
        # 24,000 / 5 = 4,800 lbf against 5,445.
        "build": ("part", 1, ""),
        "advantage": ("right", 2, ""),
        # 3,150 / 1.82 = 1,731 lbf.
        "pull": ("carried", 2, ""),
        # 5,445 lbf are 2,470 kgf.
        "point": ("unit", 1, "unit-slip"),
        "weak": ("missing", 0, ""),
    },
    "peat-cutting": {
        "first": ("wrong", 0, ""),
        # Once the weight, 20.6 kN, is the figure for a vehicle sunk to its hubs.
        "bog": ("slip", 0, "bogged-one-class-lower"),
        # 20.6 / 1.95 = 10.6 kN.
        "pull": ("carried", 2, ""),
        # 41.2 kN are 4,200 kgf.
        "point": ("unit", 1, "unit-slip"),
        # The mass on the label, 3,000 kg, written as newtons.
        "may-carry": ("unit", 0.5, "unit-slip"),
        "weak": ("missing", 0, ""),
        # Five of six stand in order: 3 x 4/5 = 2.4.
        "steps": ("part", 2, ""),
    },
    "dune-mouth": {
        "total": ("slip", 1, "weight-for-resistance"),
        "strap": ("wrong", 0, ""),
        "build": ("part", 1, ""),
        "stiffness": ("missing", 0, ""),
        # 1.664 mph x 4,800 / 1,440 = 5.55 mph.
        "lowest": ("carried", 3, ""),
        # 45 ft are 13.7 m.
        "clear": ("unit", 1, "unit-slip"),
        "steps": ("part", 1.5, ""),
    },
    "ford-exit": {
        # 27.7 + 0.50 x 25.4 = 40.4 kN counts the mud twice.
        "total": ("slip", 1.5, "rolling-added-to-bogging"),
        "plan": ("wrong", 0, ""),
        # 110 / 5 = 22 kN against 27.7.
        "build": ("part", 1, ""),
        # 27.37 kN are 2,791 kgf.
        "layer": ("unit", 1.5, "unit-slip"),
        # 40.4 / 1.95 = 20.7 kN.
        "pull": ("carried", 2, ""),
        "point": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "spur-track": {
        # 29.42 kN x sin 9 deg = 4.60 kN is the slope alone; a third of two marks, in halves.
        "total": ("slip", 0.5, "rolling-left-out"),
        # Choked the sling may carry 7.85 kN, and carries 10.6.
        "build": ("part", 1, ""),
        # 4.60 / 0.95 = 4.84 kN.
        "pull": ("carried", 2, ""),
        # 10.57 kN are 2,377 lbf.
        "turn": ("unit", 1.5, "unit-slip"),
        "sling": ("slip", 0, "choker-not-reduced"),
        "weak": ("wrong", 0, ""),
        "tree": ("missing", 0, ""),
    },
    "canal-verge": {
        # 24.52 kN x sin 6 deg = 2.56 kN is the slope alone.
        "total": ("slip", 1, "rolling-left-out"),
        "anchor": ("wrong", 0, ""),
        "build": ("part", 1, ""),
        # To the stone, 16 east and 4 south: 2.56 / cos 14.0 deg = 2.64 kN.
        "pull": ("carried", 2, ""),
        # 28.32 kN are 2,888 kgf.
        "layer": ("unit", 1, "unit-slip"),
        "sling": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "hill-road": {
        # 5,400 x sin 9 deg = 845 lbf is the slope alone.
        "away": ("slip", 1, "rolling-left-out"),
        "plan": ("wrong", 0, ""),
        # 30 ft of line for 32.8 ft: neither safe nor down.
        "build": ("wrong", 0, ""),
        "behind": ("carried", 2, ""),
        # 1,100 lbf are 499 kgf.
        "count-on": ("unit", 1, "unit-slip"),
        "weak": ("missing", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "estuary-track": {
        "total": ("right", 2, ""),
        # 100 kN / 0.30 = 333 kN for a metre that was a share.
        "stiffness": ("slip", 1, "strain-as-metres"),
        # 2.44 + sqrt(2.08^2 + 333 x 1.242 x 3.98) = 43.0 kN.
        "peak": ("carried", 4, ""),
        "design": ("missing", 0, ""),
        # 28.33 kN are 2,889 kgf.
        "rope": ("unit", 1.5, "unit-slip"),
        "faster": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "quarry-ramp": {
        # 12 % is an angle of 6.84 deg: 7,600 x 1.1191 = 8,506 lbf.
        "total": ("slip", 0, "percent-for-degrees"),
        # Choked the sling may carry 7,040 lbf, and carries 9,180.
        "build": ("part", 1, ""),
        # A part left out keeps one mark of three; a third of two, in halves.
        "advantage": ("slip", 0.5, "friction-left-out"),
        # 8,506 / 2 = 4,253 lbf.
        "pull": ("carried", 2, ""),
        # 9,180 lbf are 4,164 kgf.
        "anchor": ("unit", 1.5, "unit-slip"),
        "layer": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "gully-bend": {
        "total": ("right", 2, ""),
        # 2 x 18 / 18.68 = 1.93; a part left out keeps one mark of three.
        "advantage": ("slip", 1, "friction-left-out"),
        # 21.2 / 1.93 = 11.0 kN.
        "pull": ("carried", 2, ""),
        # 19.02 kN are 4,276 lbf.
        "north": ("unit", 2, "unit-slip"),
        "weak": ("missing", 0, ""),
        "extension": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "culvert-edge": {
        # 8,800 x (1 + sin 7 deg) = 9,872 lbf is the figure for the hubs.
        "total": ("slip", 0, "bogged-one-class-lower"),
        # 9,870 / 1.912 = 5,161 lbf.
        "pull": ("carried", 2, ""),
        # 9,276 lbf are 4,207 kgf.
        "tree": ("unit", 1, "unit-slip"),
        "may-carry": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
        "go": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "quay-lane": {
        # One of two found.
        "bin": ("part", 1, ""),
        # 22.56 kN x sin 7 deg = 2.75 kN is the slope alone.
        "total": ("slip", 0.5, "rolling-left-out"),
        # The hook without a latch: it would come up the lane, and nothing else counts.
        "build": ("part", 1, ""),
        # 2.75 / (8/8.54) = 2.94 kN.
        "strap": ("carried", 2, ""),
        # 3.245 kN are 331 kgf.
        "climb": ("unit", 1.5, "unit-slip"),
        "roll": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "tide-flat": {
        "first": ("wrong", 0, ""),
        "total": ("slip", 1, "weight-for-resistance"),
        # Held by 23.5 kN: T* = 12.7, 12.7 + sqrt(10.8^2 + 46.3 x 1.292 x 1.89^2) = 25.0 kN.
        "peak": ("carried", 3, ""),
        # 3.921 kJ are 2,892 ft lbf.
        "energy": ("unit", 1, "unit-slip"),
        # 34.3 kN taken for the peak, and not 34.3 / 1.3: the window ends far too late.
        "highest": ("slip", 0, "allowance-left-out-of-speed"),
        "clear": ("missing", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "drowned-meadow": {
        # The mass, 2,000 kg, written as kN.
        "weight": ("unit", 0.5, "unit-slip"),
        # Twice the weight, 39.2 kN, is the figure for the sills.
        "bog": ("slip", 0, "bogged-one-class-lower"),
        # 39.2 / 1.93 = 20.3 kN.
        "pull": ("carried", 2, ""),
        "poplar": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
        "go": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "wire-gap": {
        # 8,200 x cos 11 deg = 8,049 lbf is what presses on the ground, not what it holds.
        "rolling": ("slip", 1, "weight-for-rolling"),
        # 1,565 + 8,050 = 9,615 lbf.
        "total": ("carried", 2, ""),
        # Wire without a damper: it would come up, and nothing else counts.
        "build": ("part", 1, ""),
        # 95.58 ft are 29.1 m.
        "reach": ("unit", 1, "unit-slip"),
        # 72.2 ft would do on synthetic line.
        "clear": ("slip", 0, "wire-not-doubled"),
        "weak": ("wrong", 0, ""),
        "steps": ("missing", 0, ""),
    },
    "log-landing": {
        # 8,800 x (2 + sin 8 deg) = 18,825 lbf is the figure for the sills.
        "total": ("slip", 1, "bogged-one-class-deeper"),
        "two": ("wrong", 0, ""),
        # Nothing is overloaded on two parts, and it does not reach the stone: safe alone counts.
        "build": ("part", 3, ""),
        "parts": ("missing", 0, ""),
        # 53.8 ft are 16.4 m.
        "needed": ("unit", 1, "unit-slip"),
        # On two parts 18,800 / 1.95 = 9,641 lbf.
        "pull": ("carried", 2, ""),
        "end": ("wrong", 0, ""),
    },
    "ledge-track": {
        # 18.63 kN x sin 8 deg = 2.59 kN is the slope alone.
        "total": ("slip", 0.5, "rolling-left-out"),
        # Should the wagon hang up, 42.2 kN come on a point of 34.3.
        "build": ("part", 1, ""),
        # Counted from the outside of a full drum.
        "layer": ("slip", 0, "layers-from-the-wrong-end"),
        # 42.17 kN are 4,300 kgf.
        "stall": ("unit", 1.5, "unit-slip"),
        # 100 / 2.59 = 38.6.
        "factor": ("carried", 2, ""),
        "weak": ("missing", 0, ""),
        "hang": ("wrong", 0, ""),
    },
    "thicket-ride": {
        # 0.33 x 21.57 kN x cos 5 deg = 7.09 kN is the rolling share alone.
        "total": ("slip", 0.5, "grade-left-out"),
        # Choked, sling 3 may carry 7.85 kN, and carries 9.04.
        "build": ("part", 1, ""),
        # 16.12 m are 52.9 ft.
        "needed": ("unit", 1, "unit-slip"),
        # 7.09 / (16/16.12) = 7.15 kN.
        "pull": ("carried", 2, ""),
        # Sling 1 is not in this rig.
        "limit": ("wrong", 0, ""),
        "weak": ("wrong", 0, ""),
        "steps": ("missing", 0, ""),
    },
    "slick-bank": {
        # 5,200 x sin 9 deg = 813 lbf is the slope alone.
        "total": ("slip", 0.5, "rolling-left-out"),
        # 1,719 lbf are 780 kgf.
        "grip": ("unit", 1, "unit-slip"),
        "own": ("missing", 0, ""),
        # 813 / 1.95 = 417 lbf.
        "second": ("carried", 2, ""),
        # From flange to flange, not from the middle.
        "fleet": ("slip", 0, "full-width"),
        "go": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "reed-sump": {
        # 4,600 x (1 + 0.5) = 6,900 lbf counts the mud twice.
        "total": ("slip", 0.5, "rolling-added-to-bogging"),
        "stiffness": ("missing", 0, ""),
        # 5.53 mph x 6,900 / 4,600 = 8.29 mph.
        "lowest": ("carried", 3, ""),
        # 3.545 mph are 1.58 m/s.
        "highest": ("unit", 1.5, "unit-slip"),
        "go": ("wrong", 0, ""),
        "first": ("part", 1.5, ""),
    },
    "saw-pit": {
        # 29.42 kN x (2 + sin 3 deg) = 60.4 kN is the figure for the sills.
        "total": ("slip", 1, "bogged-one-class-deeper"),
        # 60.4 / 1.787 = 33.8 kN.
        "pull": ("carried", 3, ""),
        # The choker rating as it stands on the label.
        "choke": ("slip", 0, "choke-ignored"),
        # 46.44 kN are 4,736 kgf.
        "sling": ("unit", 1.5, "unit-slip"),
        "off": ("missing", 0, ""),
        "other": ("wrong", 0, ""),
        # One of two found; half of one mark.
        "bin": ("part", 0.5, ""),
    },
    "sluice-sill": {
        # 9,000 x (2 + sin 5 deg) = 18,784 lbf is the figure for the sills.
        "total": ("slip", 1, "bogged-one-class-deeper"),
        # Over a wheel of 3/4 in the wire may carry 4,848 lbf, and carries 5,018.
        "build": ("part", 1, ""),
        # 18,800 / 1.95 = 9,641 lbf.
        "pull": ("carried", 2, ""),
        "bent": ("slip", 0, "bend-ignored"),
        # 4,848 lbf are 2,199 kgf.
        "limit": ("unit", 1, "unit-slip"),
        "out": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "terrace-walk": {
        # 21.57 kN x cos 8 deg = 21.4 kN presses on the grass; a share of it holds.
        "total": ("slip", 1, "weight-for-rolling"),
        # A soft shackle with stains of acid: it would come along, and nothing else counts.
        "build": ("part", 1, ""),
        "pull": ("carried", 1, ""),
        "need": ("missing", 0, ""),
        # 14.57 kN are 1,485 kgf.
        "hold": ("unit", 1, "unit-slip"),
        "second": ("wrong", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "dune-crest": {
        "total": ("slip", 1, "weight-for-resistance"),
        # Held by 21.6 kN it stays stuck: 12 kN + sqrt of what lies beyond the corner, 22.6 kN.
        "peak": ("carried", 4, ""),
        # 30 % of 9 m is the stretch at which it breaks.
        "stretch": ("slip", 1, "stated-stretch"),
        # 22.21 kN are 2,265 kgf.
        "design": ("unit", 1, "unit-slip"),
        "strap": ("wrong", 0, ""),
        "weak": ("missing", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "verge-roll": {
        # 1,650 kg weigh 16.2 kN; half of that tips it.
        "tip": ("slip", 1, "weight-for-righting"),
        # Each of two legs 60 deg apart carries F / (2 cos 30 deg), not F.
        "leg": ("slip", 1.5, "whole-load-on-a-leg"),
        "behind": ("carried", 2, ""),
        # 7,800 lbf are 34.7 kN.
        "table": ("unit", 1, "unit-slip"),
        "count-on": ("missing", 0, ""),
        "how": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "poplar-turn": {
        # 0.17 x 22.6 kN x cos 6 deg: what rolls, without what climbs.
        "total": ("slip", 0.5, "grade-left-out"),
        "pull": ("carried", 2, ""),
        "turn": ("missing", 0, ""),
        # Half of the 46.2 deg between the legs.
        "angle": ("slip", 0, "half-for-included"),
        "limit": ("unit", 1, "unit-slip"),
        "leave": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "lane-tow": {
        "bin": ("part", 1, ""),
        # 16.2 kN x sin 7 deg: what climbs, without what rolls.
        "total": ("slip", 1, "rolling-left-out"),
        "build": ("part", 1, ""),
        "jerks": ("carried", 2, ""),
        "push": ("missing", 0, ""),
        "grip": ("unit", 1, "unit-slip"),
        "weak": ("wrong", 0, ""),
    },
}
