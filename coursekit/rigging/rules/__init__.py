"""The finding rules, by what they look at: items, joints, ground, lines, loads, kinetic."""
