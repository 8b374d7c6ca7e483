"""What is kept of parts: inspections, baths, weights and decisions."""
