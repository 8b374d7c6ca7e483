"""What the screens share: the log as they hold it, the press as it stands, entries, controls, figures."""
