"""*Plant*: every press of a log, or of many, on one screen; those that need a person come first."""
