"""Messages under faults, counted by receivers that are not ours: Debian's broker and client, and people's inbox."""
