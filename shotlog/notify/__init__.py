"""What leaves the logger by itself: every shot, verdict and change of state to a broker, and messages to people."""
