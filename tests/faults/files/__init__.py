"""Presses that give their shots as files, played under faults and counted from outside.

Written from the sheet of EUROMAP 63 and the README alone; the referee reads the log with SQLite, the folder as it lies
and the diaries of the presses.
"""
