"""The server's command with little patience, for who will not wait long to see it lost."""

import sys

from hullchange_api import timeouts
from hullchange_api.command_line.main import main

timeouts.SILENT_SECONDS, timeouts.LOOK_AGAIN_SECONDS = 1.5, 0.1

if __name__ == "__main__":
    sys.exit(main())
