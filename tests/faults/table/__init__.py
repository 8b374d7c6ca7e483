"""What was done to the logger once, row by row, played again from outside: how often tried, what was lost and doubled,
what was said, how long until shots came into the log again. Each row is written from what is wanted, not from the code.
"""
