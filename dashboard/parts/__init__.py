"""*Parts and baths*: what is held and why, inspections, baths, decisions."""
