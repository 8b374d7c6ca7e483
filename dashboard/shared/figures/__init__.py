"""The strips and the inks that every figure is drawn in."""
