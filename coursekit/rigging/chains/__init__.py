"""The steps of each part of a solution: rule, text, source and slips side by side.

`build.chain_of(situation, rig)` puts them in order.
"""
