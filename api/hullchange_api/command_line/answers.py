"""The boat that a command names, and its assessment."""

import argparse
from collections.abc import Iterator
from contextlib import contextmanager

from hullchange.answer.assessment import Assessment, RecordResult
from hullchange.boat.boat import Boat, boat_of
from hullchange.boat.built import built_parts
from hullchange.boat.cad_record import record_result
from hullchange.boat.hull import hull_from
from hullchange.document.document import Document
from hullchange_api.command_line.progress import progress_shown
from hullchange_api.command_line.refit_document import boat_given, document_given
from hullchange_api.processes.cad_worker import CadWorker
from hullchange_api.processes.second_process import on_two_cores, run_in_second_process


def answer_given(given: argparse.Namespace) -> tuple[Boat, Assessment]:
    """The boat and its assessment; with the CAD record unless ``--quick``."""
    if given.quick:
        return quick_answer(given)
    with recorded_answer(given) as (boat, answer, _):
        return boat, answer


def quick_answer(given: argparse.Namespace) -> tuple[Boat, Assessment]:
    """The boat and its assessment without the CAD record; two cores share the work."""
    with progress_shown("building the steel and floating her in every condition", ticks=False):
        return _assessed(document_given(given), given.option or "")


def _assessed(document: Document, option: str) -> tuple[Boat, Assessment]:
    built = run_in_second_process(lambda: built_parts(document))
    # the libraries and compiled loops for floating load while the steel is built and weighed
    from hullchange.assess.assessment import assessment
    from hullchange.boat.hull_hydrostatics import hull_alone

    hull_alone(hull_from(document), document)
    boat = boat_of(document, lambda _: built())
    return boat, assessment(boat, option=option, levers=on_two_cores)


@contextmanager
def recorded_answer(
    given: argparse.Namespace,
) -> Iterator[tuple[Boat, Assessment, CadWorker]]:
    """The boat, its assessment with the CAD record, and the process that made the record."""
    from hullchange.assess.assessment import assessment

    worker = CadWorker()
    try:
        with progress_shown("1 of 3, building the steel") as report:
            worker.warm_up()
            boat = boat_given(given)
            worker.begin(boat.parts)

            def record() -> RecordResult:
                report(f"3 of 3, making CAD solids of {len(boat.parts)} parts")
                return record_result(boat, worker.solids(boat.parts, None) or {})

            report("2 of 3, floating her in every condition")
            answer = assessment(boat, option=given.option or "", record=record)
        yield boat, answer, worker
    finally:
        worker.close()
