"""*Inserts*: the ledger, life curves, and the story of one insert."""
