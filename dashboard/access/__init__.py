"""Who is let in to the pages: logging in and out, what a role may touch, and how trying passwords is slowed."""
