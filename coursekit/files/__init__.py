"""Scenario, rig and answer files; every problem of a file is reported at once.

=======================  =====================================================
scenario_file            `read_scenario` and its kin, the digest, what is stored
rig_file, answer_file    the same for rigs and for answers
reading, yaml_tree       bounded text, then plain data with the line of each field
outline                  the names of a document that may be full of mistakes
*_spec                   the format, key by key, and the core's dataclasses of it
*_fields, complaint      how one value is read, and what can be wrong with it
schema, wording          what the format knows at a field; errors as problems
ranges, quantity_names   `vary`; what a task can ask for
resources                folders that come with the program
=======================  =====================================================
"""
