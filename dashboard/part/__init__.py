"""*One part*: its whole chain on one page, to read at the bench and to print."""
