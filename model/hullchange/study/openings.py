"""Openings of a boat: where their edges are."""

from collections.abc import Iterator

import numpy as np

from hullchange.geometry.frame import FloatArray
from hullchange.study.document import Document
from hullchange.study.items import Opening
from hullchange.study.values import number_at
from hullchange.study.wire import Stage


def edges_of(document: Document, stage: Stage) -> Iterator[tuple[str, FloatArray]]:
    """Name and edge (n, 3) [m] of each opening that a boat has."""
    for name, opening in document.openings.items():
        if opening.boat in (None, stage):
            yield name, opening_edge(document, opening)


def opening_edge(document: Document, opening: Opening) -> FloatArray:
    """(n, 3) points of an opening's edge [m], both sides where it is mirrored."""
    edge = np.array(opening.edge_m, dtype=float)
    if opening.rises_with is not None:
        rises = opening.rises_with
        edge[:, 2] += number_at(document, rises.path) - rises.from_m
    return np.vstack([edge, edge * [1.0, -1.0, 1.0]]) if opening.side == "both" else edge
