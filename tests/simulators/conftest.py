"""This folder bears the name of the package it tests: the package's own folder has to come first on the path."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
