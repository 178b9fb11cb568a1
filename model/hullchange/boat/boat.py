"""The document made into a boat: hull, parts built and weighed, the ledger of changes."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

from hullchange.boat.built import PARTS_HELD, Built, BuiltPart, built_parts
from hullchange.boat.entries import LedgerEntry, entries_of, steel_entries
from hullchange.boat.hull import hull_from
from hullchange.boat.openings import opening_today
from hullchange.boat.replaced_plates import old_entries, old_findings
from hullchange.cache import cached, content_digest
from hullchange.document.assumed import outside
from hullchange.document.document import Allowances, Document
from hullchange.findings import Finding, Severity
from hullchange.floating.envelope import Piece
from hullchange.geometry.surface import difference
from hullchange.hull.hull import Hull
from hullchange.plain_words import id_in_words

SMALLEST_OVERLAP = 1e-3  # [m^3] below it two faces merely touch
OF_THE_REFIT = (
    *("changes", "options", "targets", "conditions", "reference_condition"),
    *("stock", "cutting", "launch", "trials", "person", "photographs"),
)
"""The parts of a document that do not concern the boat as found."""
OF_NO_FLOAT = (
    *("options", "targets", "conditions", "reference_condition"),
    *("stock", "cutting", "launch", "trials", "person", "photographs"),
)
"""What it says that no float in a given condition depends on."""


@dataclass(frozen=True, eq=False)
class Boat:
    """Everything in the document, built; it is not afloat yet.

    Attributes:
        document: as read.
        hull: with keel and skeg.
        existing: parts aboard as found, by name.
        parts: new parts, by name.
        stands_for: names of the new parts that take an existing one's place, by its name.
        entries: the ledger of changes, in the document's order.
        findings: what is doubtful about the parts.
    """

    document: Document
    hull: Hull
    existing: Mapping[str, BuiltPart]
    parts: Mapping[str, BuiltPart]
    stands_for: Mapping[str, frozenset[str]]
    entries: tuple[LedgerEntry, ...]
    findings: tuple[Finding, ...]

    @cached_property
    def key(self) -> str:
        """Hash of all that she was built from; equal keys, equal boats."""
        built = (self.hull, *self.existing.values(), *self.parts.values())
        return content_digest((self.document, built, self.stands_for))

    @cached_property
    def unchanged(self) -> "Boat":
        """The boat as found without the refit, so that her cached answers survive edits.

        Her openings lie where they do today, and lead into what is there today.
        """
        old = {new: f"existing.{name}" for name, by in self.stands_for.items() for new in by}
        openings = {
            name: opening_today(self.document, opening, old)
            for name, opening in self.document.openings.items()
            if opening.boat in (None, "as_found")
        }
        assumed = outside(self.document.assumed, OF_THE_REFIT)
        document = self.document.model_copy(
            update={**_defaults(OF_THE_REFIT), "openings": openings, "assumed": assumed}
        )
        none: Mapping[str, BuiltPart] = MappingProxyType({})
        return Boat(document, self.hull, self.existing, none, self.stands_for, (), ())

    @cached_property
    def as_built(self) -> "Boat":
        """The same boat with nothing of what no float in a given condition depends on.

        So her floats stay while conditions, targets, options or the stock are edited.
        """
        ties = (opening.rises_with for opening in self.document.openings.values())
        tied = {tie.path.split(".")[0] for tie in ties if tie is not None}
        left = _defaults(name for name in OF_NO_FLOAT if name not in tied)
        left["assumed"] = outside(self.document.assumed, (*OF_NO_FLOAT, "changes"))
        return replace(self, document=self.document.model_copy(update=left))

    @property
    def hull_bodies(self) -> tuple[Piece, ...]:
        """Canoe body and appendages."""
        return hull_bodies(self.hull)


def _defaults(names: Iterable[str]) -> dict[str, object]:
    return {name: Document.model_fields[name].get_default() for name in names}


def hull_bodies(hull: Hull) -> tuple[Piece, ...]:
    """Canoe body and appendages."""
    appendages = (
        Piece(part.surface, adds=True, id=name) for name, part in hull.appendages.items()
    )
    return (Piece(hull.surface, adds=True, id="hull"), *appendages)


def boat_of(document: Document, built: Callable[[Document], Built] = built_parts) -> Boat:
    """The boat of a document.

    Args:
        document: as read.
        built: how her parts are come by.

    Raises:
        DocumentError: with everything that cannot be built, each at its path.
    """
    hull = hull_from(document)
    existing, parts = built(document)
    replaced = {change.replaces for change in document.changes.values()}
    stay = [part for part in existing.values() if part.path not in replaced]
    parts, overlaps = _apart(parts, stay)
    every = (*existing.values(), *parts.values())
    doubts = tuple(f for part in every for f in part.findings)
    return Boat(
        document,
        hull,
        MappingProxyType(existing),
        MappingProxyType(parts),
        _stands_for(document),
        _ledger(document, parts),
        (*doubts, *overlaps, *_old_doubts(document, parts)),
    )


def _stands_for(document: Document) -> Mapping[str, frozenset[str]]:
    return {
        change.replaces.removeprefix("existing."): frozenset(change.parts)
        for change in document.changes.values()
        if change.replaces is not None
    }


def _apart(
    parts: Mapping[str, BuiltPart], stay: list[BuiltPart]
) -> tuple[dict[str, BuiltPart], list[Finding]]:
    """The parts with no volume counted twice: what two share stays with the first."""
    settled = list(stay)
    findings: list[Finding] = []
    for part in parts.values():
        bodies = part.bodies
        for other in settled:
            shared = 0.0
            for theirs in other.bodies:
                cut = [_without(piece, theirs) for piece in bodies]
                shared += sum(
                    b.surface.volume - c.surface.volume
                    for b, c in zip(bodies, cut, strict=True)
                )
                bodies = tuple(piece for piece in cut if len(piece.surface.faces))
            if shared > SMALLEST_OVERLAP:
                sentence = (
                    f"{id_in_words(part.id).capitalize()} and {id_in_words(other.id)} overlap "
                    f"by {1000.0 * shared:.0f} litres, which are counted once: move one of "
                    "them."
                )
                findings.append(Finding("parts-overlap", Severity.WARN, part.path, sentence))
        settled.append(part if bodies is part.bodies else replace(part, bodies=bodies))
    return {part.id: part for part in settled[len(stay) :]}, findings


def _without(piece: Piece, other: Piece) -> Piece:
    """A piece without what it shares with another that adds, or takes, as it does."""
    mine, theirs = piece.surface.bounds, other.surface.bounds
    apart = (mine[0] >= theirs[1]).any() or (theirs[0] >= mine[1]).any()
    if piece.adds != other.adds or apart:
        return piece
    return replace(piece, surface=difference(piece.surface, other.surface))


def _ledger(document: Document, parts: Mapping[str, BuiltPart]) -> tuple[LedgerEntry, ...]:
    lines: list[LedgerEntry] = []
    for name, change in document.changes.items():
        lines.extend(entries_of(document, name, change))
        for part in parts.values():
            if part.change == name:
                lines.extend(_steel_lines(document.allowances, part))
                at = part.steel.centroid
                lines.extend(old_entries(name, change, part.id, part.part, at))
    return tuple(lines)


@cached(PARTS_HELD)
def _steel_lines(allowances: Allowances, part: BuiltPart) -> tuple[LedgerEntry, ...]:
    return tuple(steel_entries(allowances, part.change, part.id, part.steel, part.area))


def _old_doubts(document: Document, parts: Mapping[str, BuiltPart]) -> tuple[Finding, ...]:
    return tuple(
        finding
        for part in parts.values()
        for finding in old_findings(
            part.change,
            document.changes[part.change],
            part.id,
            part.part,
            part.steel.centroid,
        )
    )
