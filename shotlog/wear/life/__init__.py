"""One insert while it is mounted: its shots, what it is judged by, the change called on it, and what a swap says."""
