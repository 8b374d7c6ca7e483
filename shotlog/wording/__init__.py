"""Words for what is known, made at the edge; nothing reads them back."""
