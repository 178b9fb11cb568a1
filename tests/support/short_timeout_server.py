"""The command line with short timeouts, for tests of silent connections."""

import sys

from hullchange_api import timeouts
from hullchange_api.command_line.main import main

timeouts.SILENT_SECONDS, timeouts.CHECK_EVERY_SECONDS = 1.5, 0.1

if __name__ == "__main__":
    sys.exit(main())
