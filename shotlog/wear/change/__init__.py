"""What a change may look like, and how likely one is: signatures, the running filter, weights, onset, bars."""
