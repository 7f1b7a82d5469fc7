"""The scenario with its tasks, fresh numbers for each student, and its proof."""
