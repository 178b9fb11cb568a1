"""``hullchange check``: everything wrong or missing in a document."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser, json_option
from hullchange_api.command_line.status import status_of


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "read a document and list everything that is wrong or missing"
    parser = command_parser(commands, run, about, "hullchange check myboat.yaml")
    parser.add_argument("file", type=Path, metavar="FILE")
    json_option(parser)


def run(given: argparse.Namespace) -> int:
    """List the findings."""
    import json

    from hullchange_api.command_line.progress import progress_shown

    with progress_shown("building the boat and checking it"):
        from hullchange.assess.check import check_document

        findings = check_document(given.file)
    if given.json:
        rows = [
            {"code": f.code, "severity": f.severity, "place": f.place, "sentence": f.sentence}
            for f in findings
        ]
        sys.stdout.write(json.dumps({"file": str(given.file), "findings": rows}) + "\n")
        return status_of(findings)
    for finding in findings:
        sys.stdout.write(f"{finding.severity}: {finding.place}: {finding.sentence}\n")
    sys.stdout.write(f"{given.file} is complete and can be assessed.\n")
    return status_of(findings)
