"""What the app does: one verb a function, one transaction each, the only writers.

A service takes the unit of work, who acts, and what time it is; it checks the
role, and looks everything up through the actor's own school.
"""
