"""``python -m shotlog``: the same as the command ``shotlog``."""

from shotlog.own_python import leave_folder

leave_folder()  # before anything else is imported

import sys

from shotlog.cli.main import main

sys.exit(main())
