"""``python -m shotlog``: the same as the command ``shotlog``."""

import sys

from shotlog.cli.main import main

sys.exit(main())
