"""The append-only log itself: tables, transactions, hash chain, journal, shots, judgements, who was mounted."""
