"""*Presses*: connections, last values, what is coming in."""
