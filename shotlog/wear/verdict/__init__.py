"""From a change to what should be done: weights of causes, shots left, cost of a swap, and the evidence."""
