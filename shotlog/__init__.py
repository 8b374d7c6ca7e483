"""Log the shots of presses that run printed mould inserts, chart them, and say when something changed."""
