"""Two edges and a centre whose server is killed: what of the edges' logs is there, counted from outside."""
