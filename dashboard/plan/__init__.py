"""*Plan*: before a trial, what to print for so many accepted parts, how long it takes, what a part will cost."""
