"""The inner loops of the call, compiled: a shot through the filter, the weighing of every onset x hypothesis, and what
else is asked often enough to be felt.

They are plain loops over small arrays; written with NumPy the calls themselves would cost more than the arithmetic.
What belongs together goes in as one bundle: a plain tuple of arrays and numbers, unpacked on the first lines. Named
tuples would cost 3 to 6 us each at every call, a sixth of the time a shot takes. A bundle is described in the file of
the loops that take it: the code kept of a file is made anew when that file changes, not when another does.

Compiled code is kept beside these files (or in the user's cache folder), so only the first use on a machine waits for
the compiler, and not in front of a shot (`recorder.rehearsal`). Strict arithmetic (no reordering of sums): the same
shots give the same numbers, with the compiler and without it.
"""
