"""A logger on a press on OPC UA, under faults, counted from outside; and the wire between both, watched.

Nothing here reads code of the logger: the truth comes from the press, the outcome from the log and from commands.
"""
