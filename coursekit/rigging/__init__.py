"""Gear, vehicles, places and rigs, the solver of a rig, and what it finds wrong.

Pure: floats in SI and frozen dataclasses in, the same out.  Where to look:

========================  ====================================================
gear, vehicle, site       what stands on the ground (`Situation` holds it all)
rig                       what a person builds of it
plan                      points, directions and lengths of a rig on the plan
steps                     the step chain: rule, text, source and slips together
chains/                   the steps themselves, one module for each part
solver                    `solve(situation, rig)` folds the chain of a rig
findings                  the rules that make a rig unsafe, poor or noteworthy
search/                   `safe_rigs(situation)`: every safe rig that gear and site allow
========================  ====================================================
"""
