"""``python -m hullchange_api`` is the command line."""

from hullchange_api.command_line.main import main

raise SystemExit(main())
