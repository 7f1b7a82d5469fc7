"""Marking, diagnosis and feedback: what an answer earns, and where it went wrong.

Credit and safety are two verdicts.  What is carried forward never makes an
unsafe rig safe; one critical finding makes the outcome unsafe whatever the marks.
"""
