"""What each command of the command line does; imported only when one is run."""

import argparse
import json
import os
import sys
import tempfile
from collections.abc import Callable, Collection
from pathlib import Path

from hullchange.errors import DocumentError, ModelError
from hullchange.study.assess import assessment
from hullchange.study.boat import Boat, boat_of
from hullchange.study.paths import assignment, with_option, with_value
from hullchange.study.reading import Plain, document_of, read_document
from hullchange.study.record import recorded
from hullchange.study.results import Assessment, RecordResult
from hullchange_api.cli import DONE, FAILED, REFUSED
from hullchange_api.store.files import write_whole
from hullchange_api.workers import Workers


def run(given: argparse.Namespace) -> int:
    """Exit status of a command; a refusal is one sentence a fault on standard error."""
    command: Callable[[argparse.Namespace], int] = COMMANDS[given.command]
    try:
        status = command(given)
        sys.stdout.flush()
    except DocumentError as error:
        for fault in error.faults:
            line = f"line {fault.line}: " if fault.line else ""
            place = f"{fault.place}: " if fault.place else ""
            _say(f"{_file_of(given)}{line}{place}{fault.sentence}")
        return REFUSED
    except ModelError as error:
        _say(f"{_file_of(given)}{error}")
        return REFUSED
    except BrokenPipeError:
        # whoever read has seen enough; the interpreter's last flush must not complain
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except OSError as error:
        _say(f"{error.filename or given.command}: {error.strerror or error}.")
        return REFUSED
    return status


def _say(sentence: str) -> None:
    sys.stderr.write(f"{sentence}\n")


def _file_of(given: argparse.Namespace) -> str:
    file = getattr(given, "file", None)
    return f"{file}: " if file is not None else ""


def new(given: argparse.Namespace) -> int:
    """Write a commented starting document where there is no file yet."""
    from hullchange.study.start import starting_document

    if given.file.exists():
        sentence = "There is a file of this name already: choose another one."
        raise ModelError("file-exists", sentence)
    name = given.file.stem.replace("-", " ").replace("_", " ").strip().capitalize()
    write_whole(given.file, starting_document(name or "Boat").encode())
    sys.stdout.write(f"{given.file}\n")
    return DONE


def check(given: argparse.Namespace) -> int:
    """List everything that is wrong or missing."""
    from hullchange.study.check import checked

    findings = checked(given.file)
    if given.json:
        rows = [
            {"code": f.code, "severity": f.severity, "place": f.place, "sentence": f.sentence}
            for f in findings
        ]
        sys.stdout.write(json.dumps({"file": str(given.file), "findings": rows}) + "\n")
        return DONE
    for finding in findings:
        sys.stdout.write(f"{finding.severity}: {finding.place}: {finding.sentence}\n")
    sys.stdout.write(f"{given.file} can be assessed.\n")
    return DONE


def assess(given: argparse.Namespace) -> int:
    """The whole assessment, as tables or as JSON."""
    _, answer = _assessed(given)
    if given.json:
        sys.stdout.write(answer.model_dump_json(indent=1) + "\n")
    else:
        from hullchange.present.tables import tables

        sys.stdout.write(tables(answer))
    return FAILED if any(f.severity == "fail" for f in answer.findings) else DONE


def scene(given: argparse.Namespace) -> int:
    """The refit as one glTF file."""
    from hullchange.present.scene import whole_scene

    write_whole(given.out, whole_scene(_boat(given)))
    sys.stdout.write(f"{given.out}\n")
    return DONE


def share(given: argparse.Namespace) -> int:
    """The pages about the refit as one HTML file."""
    from hullchange_api.sharing import shared_page

    if given.out.suffix.lower() not in (".html", ".htm"):
        raise ModelError("not-a-page", "The file to write ends in .html: name it so in --out.")
    boat, answer = _assessed(given)
    write_whole(given.out, shared_page(given.file.name, _plain(given), boat, answer))
    sys.stdout.write(f"{given.out}\n")
    return DONE


def tables(given: argparse.Namespace) -> int:
    """The check pack as CSV files in a folder; ratios and what is still allowed in words."""
    from hullchange.present.check_pack import check_pack, said
    from hullchange.study.check_values import check_values

    values = check_values(_boat(given), given.option or "")
    given.out.mkdir(parents=True, exist_ok=True)
    for name, text in check_pack(values).items():
        write_whole(given.out / name, text.encode())
        sys.stdout.write(f"{given.out / name}\n")
    sys.stdout.writelines(f"{line}\n" for line in said(values))
    return DONE


def cut(given: argparse.Namespace) -> int:
    """The packs for the cutter in a folder; what is doubtful in words."""
    from hullchange.present.cut_files import cut_files
    from hullchange.study.cutting import GOOD, QUICK, cut_pack

    pack = cut_pack(_boat(given), QUICK if given.quick else GOOD, _progress)
    files = cut_files(pack, r12=given.r12)
    _require_no_others(given.out, files)
    for name, content in files.items():
        path = given.out / name
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, content)
    for finding in pack.findings:
        sys.stdout.write(f"{finding.severity}: {finding.place}: {finding.sentence}\n")
    sys.stdout.write(f"{given.out / 'note.txt'}\n")
    return DONE


def _require_no_others(folder: Path, files: Collection[str]) -> None:
    """Nothing, where a folder holds no file that this pack does not write anew."""
    held = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}
    others = sorted(held.difference(files))
    if others:
        sentence = (
            f"The folder {folder} holds files of something else, such as {others[0]}: a stale "
            "file cuts scrap. Empty it or name another."
        )
        raise ModelError("folder-holds-others", sentence)


def _progress(words: str) -> None:
    if sys.stderr.isatty():
        sys.stderr.write(f"\r{words[:70]:<70}")


def serve(given: argparse.Namespace) -> int:
    """The server with its store."""
    from hullchange_api import serving

    serving.serve(given.data or serving.data_folder(), given.file, given.port, _opens(given))
    return DONE


def demo(given: argparse.Namespace) -> int:
    """The server with the demo refit; it starts afresh each time unless --data is given."""
    from hullchange_api import serving

    with tempfile.TemporaryDirectory(prefix="hullchange-demo-") as passing:
        folder = given.data or Path(passing)
        serving.lay_out_demo(folder)
        serving.serve(folder, None, given.port, _opens(given))
    return DONE


def _opens(given: argparse.Namespace) -> bool:
    return not given.no_browser and sys.stdout.isatty()


def _assessed(given: argparse.Namespace) -> tuple[Boat, Assessment]:
    """The boat and her answer, unless quick with the CAD record another process makes."""
    option = given.option or ""
    if given.quick:
        boat = _boat(given)
        return boat, assessment(boat, option=option)
    workers = Workers()
    try:
        workers.warm_up()
        boat = _boat(given)
        workers.begin(boat.parts)

        def record() -> RecordResult:
            return recorded(boat, workers.solids(boat.parts, None) or {})

        return boat, assessment(boat, option=option, record=record)
    finally:
        workers.close()


def _boat(given: argparse.Namespace) -> Boat:
    return boat_of(document_of(_plain(given), given.file.parent))


def _plain(given: argparse.Namespace) -> Plain:
    """The document as written, with the option and the settings of the command."""
    plain = read_document(given.file).plain
    if given.option is not None:
        plain = with_option(plain, given.option)
    for setting in given.settings:
        plain = with_value(plain, *assignment(setting))
    return plain


COMMANDS = {
    "new": new,
    "check": check,
    "assess": assess,
    "scene": scene,
    "share": share,
    "tables": tables,
    "cut": cut,
    "serve": serve,
    "demo": demo,
}
