"""Presses to try the logger on: a model of a press with printed inserts, told by scenario files, served on real
wires.
"""
