"""Whether a document can be assessed: its values, what it builds, whether it floats."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from hullchange.afloat.at_rest import afloat_in_reference
from hullchange.afloat.floats_in_conditions import answers_of
from hullchange.answer.assessment import UnansweredResult
from hullchange.assess.document_findings import input_check_findings
from hullchange.assess.findings import unanswered_findings
from hullchange.boat.boat import Boat, boat_of
from hullchange.boat.conditions import conditions_of
from hullchange.boat.variants import as_found, refit
from hullchange.document.document import Document
from hullchange.document.options import with_option
from hullchange.document.reading import ReadDocument, document_of, read_document
from hullchange.errors import DocumentError, Fault, ModelError
from hullchange.findings import Finding, worst_first
from hullchange.survey.as_found import surveyed


def check_document(path: Path) -> tuple[Finding, ...]:
    """What is doubtful about a document that can be assessed.

    Raises:
        DocumentError: with everything that is wrong, options included, each at its path.
    """
    read = read_document(path)
    try:
        found_doubtful = base_design_findings(read.document)
        under_options = _options_built(read, found_doubtful)
    except DocumentError as error:
        placed = tuple(
            fault if fault.line else replace(fault, line=read.written.line_of(fault.place))
            for fault in error.faults
        )
        raise DocumentError(placed) from error
    return worst_first([*found_doubtful, *under_options])


def base_design_findings(document: Document) -> tuple[Finding, ...]:
    """What is doubtful about a document without its options, worst first.

    Raises:
        DocumentError: with everything that cannot be built, or where she does not float.
    """
    boat = boat_of(document)
    require_afloat(boat)
    return worst_first([*input_check_findings(boat, surveyed(boat)), *_afloat_findings(boat)])


def require_afloat(boat: Boat) -> None:
    """Refuse unless she floats as surveyed and in her reference condition.

    In any other condition she may sink: that is answered under its name.

    Raises:
        DocumentError: where she does not float.
    """
    try:
        as_surveyed = surveyed(boat)
        condition = conditions_of(boat.document)[boat.document.reference_condition]
        for variant in (as_found(boat), refit(boat)):
            afloat_in_reference(boat, as_surveyed, variant, condition)
    except ModelError as error:
        fault = Fault(error.code, error.place, error.sentence)
        raise DocumentError((fault,)) from error


def _afloat_findings(boat: Boat) -> Iterator[Finding]:
    """Each boat that does not float in a condition."""
    as_surveyed = surveyed(boat)
    for condition in conditions_of(boat.document).values():
        answers = answers_of(boat, as_surveyed, condition)
        yield from unanswered_findings(a for a in answers if isinstance(a, UnansweredResult))


def _options_built(read: ReadDocument, without: tuple[Finding, ...]) -> list[Finding]:
    """What is doubtful under an option alone, where every option can be built.

    Args:
        read: the document.
        without: what is doubtful without an option.
    """
    faults: list[Fault] = []
    findings: list[Finding] = []
    known = {(finding.code, finding.place) for finding in without}
    for name in read.document.options:
        try:
            boat = boat_of(document_of(with_option(read.plain, name), read.folder))
            doubtful = list(input_check_findings(boat, surveyed(boat)))
        except DocumentError as error:
            faults += [
                Fault(f.code, f"options.{name}", f"In this option: {f.place}: {f.sentence}")
                for f in error.faults
            ]
            continue
        except ModelError as error:
            faults.append(Fault(error.code, f"options.{name}", f"In this option: {error}"))
            continue
        findings += [
            replace(f, place=f"options.{name}", sentence=f"In this option: {f.sentence}")
            for f in doubtful
            if (f.code, f.place) not in known
        ]
    if faults:
        raise DocumentError(tuple(faults))
    return findings
