"""The fault bench: three presses that know the truth, a real ``shotlog run``, faults drawn from a seed, and a referee
from outside.

Nothing here reads the code of the logger. The presses write down themselves what they showed, the referee reads the log
with SQLite alone, and what the logger said it took is taken from its own words.
"""
