"""The simulated lives of the benchmark are the material of these tests too."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
