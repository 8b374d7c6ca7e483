"""*At the press*: to be read standing, at two metres."""
