"""The rules about parts and lives, over facts: what speaks against a part, which parts are held, when a life ended."""
