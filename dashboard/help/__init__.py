"""*Help*: the cautions, the signs and the words."""
