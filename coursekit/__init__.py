"""Courses in off-road vehicle recovery: scenarios, classes, marks and the kit."""
