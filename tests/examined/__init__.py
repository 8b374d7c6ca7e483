"""Cases read off the trade notes and the wishes of users, before the code: what must be held, refused, shown, said."""
