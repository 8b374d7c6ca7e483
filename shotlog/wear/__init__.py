"""The call: insert, material or press; since which shot; how many shots left; swap or not."""
