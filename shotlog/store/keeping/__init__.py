"""How a log outlives its disk, and an edit of it: backups, archives of trials, its head written down outside."""
