"""What each command of the command line does; imported only when one is run."""

import argparse
import json
import os
import sys
import tempfile
from collections.abc import Callable, Collection, Iterable, Iterator
from contextlib import closing, contextmanager
from functools import partial
from pathlib import Path

from hullchange.answer.assessment import Assessment, FindingResult, RecordResult
from hullchange.boat.boat import Boat, boat_of, built_of
from hullchange.boat.cad_record import recorded
from hullchange.boat.hull import hull_from
from hullchange.document.document import Document
from hullchange.document.matching import PlainDocument, words_at
from hullchange.document.options import landed, with_option
from hullchange.document.paths import assignment
from hullchange.document.reading import document_of, read_document
from hullchange.errors import DocumentError, ModelError
from hullchange.findings import Finding
from hullchange_api.command_line.main import DONE, FAILED, REFUSED
from hullchange_api.command_line.progress import telling
from hullchange_api.command_line.stages import stages
from hullchange_api.processes.cad_workers import Workers
from hullchange_api.processes.second_process import aside, halved
from hullchange_api.store.files import PRIVATE_FILE, write_all, write_whole, written_whole
from hullchange_api.wire.review import WholeStanding


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
    from hullchange.document.start import starting_document

    _require_new(given.file)
    name = given.file.stem.replace("-", " ").replace("_", " ").strip().capitalize()
    write_whole(given.file, starting_document(name or "Boat").encode())
    sys.stdout.write(f"{given.file}\n")
    return DONE


def check(given: argparse.Namespace) -> int:
    """List everything that is wrong or missing."""
    from hullchange.assess.check import checked

    findings = checked(given.file)
    if given.json:
        rows = [
            {"code": f.code, "severity": f.severity, "place": f.place, "sentence": f.sentence}
            for f in findings
        ]
        sys.stdout.write(json.dumps({"file": str(given.file), "findings": rows}) + "\n")
        return _exit(findings)
    for finding in findings:
        sys.stdout.write(f"{finding.severity}: {finding.place}: {finding.sentence}\n")
    sys.stdout.write(f"{given.file} can be assessed.\n")
    return _exit(findings)


def _exit(findings: Iterable[Finding | FindingResult]) -> int:
    return FAILED if any(f.severity == "fail" for f in findings) else DONE


def assess(given: argparse.Namespace) -> int:
    """The whole assessment, as tables or as JSON."""
    _, answer = _assessed(given)
    if given.json:
        sys.stdout.write(answer.model_dump_json(indent=1) + "\n")
    else:
        from hullchange.present.tables import tables

        sys.stdout.write(tables(answer))
    return _exit(answer.findings)


def explain(given: argparse.Namespace) -> int:
    """A figure opened, in words or as JSON."""
    from hullchange.explain.explain import explanation
    from hullchange.explain.in_words import explained

    boat, answer = _quick(_document(given), given.option or "")
    opens = partial(explanation, answer, boat.document)
    if given.json:
        sys.stdout.write(opens(given.path).model_dump_json(indent=1) + "\n")
    else:
        lines = explained(given.path, opens, deep=given.deep)
        sys.stdout.writelines(f"{line}\n" for line in lines)
    return DONE


def scene(given: argparse.Namespace) -> int:
    """The refit as one glTF file."""
    from hullchange.present.scene import whole_scene

    if given.out.suffix.lower() != ".glb":
        raise ModelError("not-a-scene", "The file to write ends in .glb: name it so in --out.")
    write_whole(given.out, whole_scene(_boat(given)))
    sys.stdout.write(f"{given.out}\n")
    return DONE


def share(given: argparse.Namespace) -> int:
    """The pages about the refit as one HTML file."""
    from hullchange_api.review.shared_page import Shared, shared_page

    if given.out.suffix.lower() not in (".html", ".htm"):
        raise ModelError("not-a-page", "The file to write ends in .html: name it so in --out.")
    boat, answer = _assessed(given)
    name, plain = given.file.name, _plain(given, given.option)
    with telling("drawing her and writing the page"):
        page = shared_page(Shared(name, name, plain, boat, answer))
    write_whole(given.out, page)
    sys.stdout.write(f"{given.out}\n")
    return DONE


def tables(given: argparse.Namespace) -> int:
    """The check pack as CSV files in a folder; ratios and what is still allowed in words."""
    from hullchange.check_pack.files import check_pack, said
    from hullchange.check_pack.values import check_values

    with telling("floating her for the tables"):
        values = check_values(_boat(given), given.option or "")
    files = check_pack(values, _standing(given).standing)
    _require_no_others(given, files)
    write_all(given.out, {name: text.encode() for name, text in files.items()})
    sys.stdout.writelines(f"{given.out / name}\n" for name in files)
    sys.stdout.writelines(f"{line}\n" for line in said(values))
    return DONE


def cut(given: argparse.Namespace) -> int:
    """The packs for the cutter in a folder; what is doubtful in words."""
    from hullchange.cutting.files import cut_files
    from hullchange.cutting.pack import GOOD, QUICK, cut_pack

    standing = _standing(given)
    effort = QUICK if given.quick else GOOD
    with telling("building the steel") as tell:
        pack = cut_pack(_boat(given), effort, tell, state=standing.standing)
        files = cut_files(pack, r12=given.r12, tell=tell)
    _require_no_others(given, files)
    write_all(given.out, files)
    for finding in pack.findings:
        sys.stdout.write(f"{finding.severity}: {finding.place}: {finding.sentence}\n")
    said = (standing.sentence, *standing.conflicts, str(given.out / "note.txt"))
    sys.stdout.writelines(f"{line}\n" for line in said)
    return DONE


def _standing(given: argparse.Namespace) -> WholeStanding:
    """Where the document of a command stands, by what the data folder knows of it."""
    from hullchange_api.review.status import standing_of_file
    from hullchange_api.serving import data_folder

    drawn = document_of(_plain(given, option=None), given.file.parent)
    return standing_of_file(given.data or data_folder(), given.file, drawn)


def _require_no_others(given: argparse.Namespace, files: Collection[str]) -> None:
    """Nothing, where the folder holds no file but such as this pack writes anew."""
    folder: Path = given.out
    read = _files_read(given)
    over = next((name for name in files if (folder / name).resolve() in read), None)
    if over is not None:
        sentence = f"{folder / over} is what this refit is read from: name another folder."
        raise ModelError("folder-holds-others", sentence)
    held = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}
    others = sorted(held.difference(files))
    if others:
        sentence = (
            f"The folder {folder} holds files of something else, such as {others[0]}: a stale "
            "one among them misleads. Empty it or name another."
        )
        raise ModelError("folder-holds-others", sentence)


def _files_read(given: argparse.Namespace) -> set[Path]:
    """The document, and the table its lines are in."""
    plain = _plain(given, option=None)
    tables = (words_at(plain, place) for place in ("hull.lines.file", "hull.file"))
    names = (name for found in tables for _, name in found)
    return {given.file.resolve(), *((given.file.parent / name).resolve() for name in names)}


def export(given: argparse.Namespace) -> int:
    """Files for other programs in a folder."""
    from hullchange_api.review.exports import NAMES, Exports, origin_of

    _require_no_others(given, NAMES)
    state = _standing(given).standing
    with _recorded(given) as (boat, answer, workers):
        origin = origin_of(boat, given.option, state=state)
        exports = Exports(origin, boat, lambda: answer, workers)
        files: dict[str, bytes] = {name: exports.file(name) for name in exports.names}
    write_all(given.out, files)
    sys.stdout.writelines(f"{given.out / name}\n" for name in files)
    return DONE


def archive(given: argparse.Namespace) -> int:
    """All of a refit in one new file."""
    from hullchange_api.serving import data_folder
    from hullchange_api.store.refits import Shelf

    _require_new(given.out)
    file = Path(given.refit) if Path(given.refit).is_file() else None
    with closing(Shelf(given.data or data_folder(), file)) as shelf:
        refit = given.refit if file is None else shelf.ids()[0]
        with written_whole(given.out, PRIVATE_FILE) as out:
            shelf.archive(refit, out)
    sys.stdout.write(f"{given.out}\n")
    return DONE


def restore(given: argparse.Namespace) -> int:
    """Take a refit up from its archive."""
    from hullchange_api.serving import data_folder
    from hullchange_api.store.refits import Shelf

    with closing(Shelf(given.data or data_folder())) as shelf, given.file.open("rb") as sent:
        refit = shelf.restore(sent, given.name)
    sys.stdout.write(f"{shelf.file(refit)}\n")
    return DONE


def merge(given: argparse.Namespace) -> int:
    """Take up what was said in a shared page."""
    from hullchange_api.review.review_file import merge as merged
    from hullchange_api.review.review_file import review_file
    from hullchange_api.review.reviews import ReviewDesk
    from hullchange_api.serving import data_folder
    from hullchange_api.store.refits import Shelf
    from hullchange_api.working_copy.working_copies import Desk

    filed = review_file(given.review)
    document = Path(given.refit) if Path(given.refit).is_file() else None
    with closing(Shelf(given.data or data_folder(), document)) as shelf:
        refit = given.refit if document is None else shelf.ids()[0]
        try:
            told = merged(ReviewDesk(Desk(shelf)), refit, filed)
        except ModelError as error:
            if error.code != "open-elsewhere":
                raise
            file = Path(given.review).name
            sentence = (
                f"Another hullchange has {refit} open: drop {file} on its Review page, where "
                "each word arrives once too, or end it first."
            )
            raise ModelError(error.code, sentence) from error
    sys.stdout.write(f"{told.new_count} new, {told.known_count} known already.\n")
    sys.stdout.writelines(f"{conflict}\n" for conflict in told.conflicts)
    return FAILED if told.conflicts else DONE


def _require_new(file: Path) -> None:
    if file.exists():
        sentence = f"There is a file {file} already: choose another name."
        raise ModelError("file-exists", sentence)


def serve(given: argparse.Namespace) -> int:
    """The server with its store."""
    from hullchange_api import serving

    place = serving.Place(given.host, given.port, given.secret_link)
    folder = given.data or serving.data_folder()
    serving.serve(folder, given.file, place, opens_browser=_opens(given))
    return DONE


def demo(given: argparse.Namespace) -> int:
    """The server with the demo refit; it starts afresh each time unless --data is given."""
    from hullchange_api import serving

    with tempfile.TemporaryDirectory(prefix="hullchange-demo-") as passing:
        folder = given.data or Path(passing)
        serving.lay_out_demo(folder)
        place = serving.Place(port=given.port)
        serving.serve(folder, None, place, opens_browser=_opens(given))
    return DONE


def _opens(given: argparse.Namespace) -> bool:
    return not given.no_browser and sys.stdout.isatty()


def _assessed(given: argparse.Namespace) -> tuple[Boat, Assessment]:
    """The boat and her answer, unless quick with the CAD record another process makes."""
    if given.quick:
        return _quick(_document(given), given.option or "")
    with _recorded(given) as (boat, answer, _):
        return boat, answer


def _quick(document: Document, option: str) -> tuple[Boat, Assessment]:
    """The boat and her answer without the CAD record; two cores share the work."""
    with telling("building the steel, floating every condition", ticks=False):
        return _on_two_cores(document, option)


def _on_two_cores(document: Document, option: str) -> tuple[Boat, Assessment]:
    built = aside(lambda: built_of(document))
    # what floats is loaded, compiled loops and all, while the steel is built and weighed
    from hullchange.assess.assessment import assessment
    from hullchange.boat.hull_hydrostatics import hull_alone

    hull_alone(hull_from(document), document)
    boat = boat_of(document, lambda _: built())
    return boat, assessment(boat, option=option, levers=halved)


@contextmanager
def _recorded(given: argparse.Namespace) -> Iterator[tuple[Boat, Assessment, Workers]]:
    """The boat, her answer with the CAD record, and the process that made it."""
    from hullchange.assess.assessment import assessment

    workers = Workers()
    try:
        with telling("1 of 3, building the steel") as tell:
            workers.warm_up()
            boat = _boat(given)
            workers.begin(boat.parts)

            def record() -> RecordResult:
                tell(f"3 of 3, weighing the solids of {len(boat.parts)} parts")
                return recorded(boat, workers.solids(boat.parts, None) or {})

            tell("2 of 3, floating every condition")
            answer = assessment(boat, option=given.option or "", record=record)
        yield boat, answer, workers
    finally:
        workers.close()


def _boat(given: argparse.Namespace) -> Boat:
    return boat_of(_document(given))


def _document(given: argparse.Namespace) -> Document:
    return document_of(_plain(given, given.option), given.file.parent)


def _plain(given: argparse.Namespace, option: str | None) -> PlainDocument:
    """The document as written, with an option and the settings of the command."""
    plain = read_document(given.file).plain
    for setting in given.settings:
        plain = landed(plain, given.option, *assignment(setting))
    return with_option(plain, option)


_ALL = (
    *(new, check, assess, explain, scene, share, tables),
    *(cut, stages, export, archive, restore, merge, serve, demo),
)
COMMANDS = {command.__name__: command for command in _ALL}
