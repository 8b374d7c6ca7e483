"""What a value is expected to be: warming up, pauses, noise, and what sister inserts teach of them."""
