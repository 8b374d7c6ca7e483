"""Who may do what: roles and accounts."""
