"""The life of a kit item: its ledger, its use count, and when it is due to retire.

Pure: entries, policies and today's date come in, counts and reasons go out.
"""
