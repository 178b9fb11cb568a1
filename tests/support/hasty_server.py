"""The server's command with little patience, for who will not wait long to see it lost."""

import sys

from hullchange_api import patience
from hullchange_api.cli import main

patience.SILENT_SECONDS, patience.LOOK_AGAIN_SECONDS = 1.5, 0.1

if __name__ == "__main__":
    sys.exit(main())
