"""Finding the register map or the line layout of a press while it shoots: what is what, how sure, why."""
