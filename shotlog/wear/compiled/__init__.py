"""The inner loops of the call, compiled: a shot through the filter, the weighing of every onset x hypothesis, and what
else is asked often enough to be felt.

They are plain loops over small arrays; written with NumPy the calls themselves would cost more than the arithmetic.
Compiled code is kept beside these files (or in the user's cache folder), so only the first use on a machine waits for
the compiler. Strict arithmetic (no reordering of sums): the same shots give the same numbers.
"""
