"""Words: verdicts, numbers with their units, times, spans of shots. Made here, shown at the edge, never read back."""
