"""``hullchange lines``: lines of a hull from a table in any unit, as a CSV file in metres."""

import argparse
import sys
from pathlib import Path

from hullchange_api.command_line.options import Commands, command_parser
from hullchange_api.command_line.status import DONE


def add_to(commands: Commands) -> None:
    """Add the command."""
    about = "read the lines of a hull from a table in any unit, and write them in metres"
    example = "hullchange lines offsets.csv --unit ft-in-8 --out lines.csv"
    parser = command_parser(commands, run, about, example)
    parser.add_argument("file", type=Path, metavar="TABLE")
    parser.add_argument(
        "--unit", default="", help="unit of numbers given without one: m, mm, ft-in-8"
    )
    parser.add_argument("--out", type=Path, required=True, metavar="FILE")


def run(given: argparse.Namespace) -> int:
    """Write the lines, and print what they are worth and what is missing."""
    import csv
    import io

    from hullchange.errors import ModelError
    from hullchange.hull.lines_csv import COLUMNS
    from hullchange.hull_sources.points import TableAsked, whole_table
    from hullchange.hull_sources.preview import previewed
    from hullchange_api.command_line.output_checks import require_new
    from hullchange_api.store.files import write_atomically

    try:
        text = given.file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise ModelError(
            "not-a-lines-table", "This is not plain text: save the table as CSV."
        ) from error
    found = whole_table(text, TableAsked(given.unit))
    require_new(given.out)
    table = io.StringIO()
    rows = csv.writer(table, lineterminator="\n")
    rows.writerow(COLUMNS)
    for line in found.lines:
        rows.writerows([line.name, line.kind, *point] for point in line.points)
    write_atomically(given.out, table.getvalue().encode())
    report = (found.worth, *found.notes, *found.missing)
    faults = tuple(fault.sentence for fault in previewed(found).faults)
    sys.stdout.writelines(f"{line}\n" for line in (str(given.out), *report, *faults))
    return DONE
