"""The log of an edge on its way to a centre, once or for as long as it grows: when it is tried, and what is said."""
