"""Parts proposed for a change of a refit, and what builds where a part of it is refused."""

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from itertools import count

from hullchange.boat.hull import hull_from
from hullchange.document.document import Document
from hullchange.errors import DocumentError, ModelError, Offer
from hullchange.geometry.host import Host
from hullchange.parts.fields import PartDimensions
from hullchange.parts.parameters import Deckhouse
from hullchange.parts.part import Part, Site
from hullchange.parts.registry import KINDS
from hullchange.parts.stacked import ground_of
from hullchange.proposals.offers import offers
from hullchange.proposals.proposing import PROPOSERS, proposal
from hullchange.proposals.surroundings import Surroundings

OLD = "existing."


@dataclass(frozen=True)
class ProposedPart:
    """What is proposed for a kind.

    Attributes:
        kind: of part.
        name: that no other part of the refit has.
        dimensions: that build on this hull; None where there is no place for it.
        sentence: how they were chosen, or why there are none.
        replaces: path of the existing part whose place it takes, or empty.
    """

    kind: str
    name: str
    dimensions: PartDimensions | None
    sentence: str
    replaces: str


def proposed_parts(
    document: Document, change: str, kinds: Iterable[str], replaces: str | None = None
) -> tuple[ProposedPart, ...]:
    """What is proposed for a change, one answer for each kind.

    Args:
        document: the refit.
        change: the part is to be one of.
        kinds: of part.
        replaces: path of the existing part it takes the place of; else what the change says,
            or an old part of the kind that no change replaces yet.

    Raises:
        ModelError: ``unknown-change``, ``unknown-kind``, ``replaces-nothing``; as
            ``hull_from``.
    """
    if change not in document.changes:
        raise ModelError("unknown-change", f"There is no change called {change}.", "change")
    known = [_known(kind) for kind in kinds]
    found = []
    for kind in known:
        old = _replaced(document, change, kind, replaces)
        found.append(_proposed(document, kind, old, partial(surroundings_of, document, old)))
    return tuple(found)


def parts_as_found(document: Document, kinds: Iterable[str]) -> tuple[ProposedPart, ...]:
    """What is proposed for an existing part, one answer for each kind; no new part is heeded.

    Args:
        document: the refit.
        kinds: of part.

    Raises:
        ModelError: ``unknown-kind``; as ``hull_from``.
    """
    found = document.model_copy(update={"changes": {}})
    return tuple(
        _proposed(document, _known(kind), "", partial(surroundings_of, found, "", OLD))
        for kind in kinds
    )


def _known(kind: str) -> str:
    if kind not in PROPOSERS:
        known = ", ".join(PROPOSERS)
        raise ModelError(
            "unknown-kind", f"{kind} is not a kind of part; choose one of {known}.", "kind"
        )
    return kind


def _proposed(
    document: Document, kind: str, old: str, around: Callable[[], Surroundings]
) -> ProposedPart:
    name = _free_name(document, PROPOSERS[kind].name)
    try:
        found = proposal(kind, around())
    except ModelError as error:
        return ProposedPart(kind, name, None, error.sentence, "")
    return ProposedPart(kind, name, found.dimensions, found.sentence, old)


def _replaced(document: Document, change: str, kind: str, asked: str | None) -> str:
    """Path of the existing part whose place a new one of a kind takes, or empty.

    Raises:
        ModelError: ``replaces-nothing``.
    """
    if asked is not None:
        if asked.removeprefix(OLD) not in document.existing:
            sentence = (
                f"This boat has no existing part {asked}: name one of those under existing."
            )
            raise ModelError("replaces-nothing", sentence, "replaces")
        return f"{OLD}{asked.removeprefix(OLD)}"
    plan, gone = document.changes[change], _gone(document)
    if plan.replaces is not None:
        old = document.existing.get(plan.replaces.removeprefix(OLD))
        is_there = any(part.kind == kind for part in plan.parts.values())
        return plan.replaces if old and old.kind == kind and not is_there else ""
    alike = (name for name, part in document.existing.items() if part.kind == kind)
    return next((path for name in alike if (path := f"{OLD}{name}") not in gone), "")


def _gone(document: Document) -> set[str]:
    return {plan.replaces for plan in document.changes.values() if plan.replaces is not None}


def _free_name(document: Document, word: str) -> str:
    taken = {*document.existing, *_new_parts(document)}
    names = (word if number == 1 else f"{word}-{number}" for number in count(1))
    return next(name for name in names if name not in taken)


def surroundings_of(document: Document, old: str, apart_from: str = "") -> Surroundings:
    """Where a new part of a refit goes.

    Args:
        document: the refit.
        old: path of the existing part whose place it takes, or empty.
        apart_from: path of a part that is no neighbour, the part itself.

    Raises:
        ModelError: as ``hull_from``.
    """
    host, gone = hull_from(document).bare, _gone(document) | {old}
    neighbours = {
        path.rsplit(".", 1)[1]: part
        for path, part in parts_of(document).items()
        if path not in gone and path != apart_from
    }
    # a new part stands on a new one, an old part on an old one
    alike = document.existing if apart_from.startswith(OLD) else _new_parts(document)
    below = {name: part for name, part in neighbours.items() if name in alike}
    replaced = document.existing.get(old.removeprefix(OLD)) if old else None
    ground = None
    if isinstance(replaced, Deckhouse):
        with suppress(ModelError):
            ground = ground_under(document, old.removeprefix(OLD))
    return Surroundings(host, neighbours, _roofs(host, below), replaced, ground)


def ground_under(document: Document, name: str) -> Host:
    """What an existing house stands on: the deck, or the roof of another.

    Args:
        document: the refit.
        name: of the existing house.

    Raises:
        ModelError: as ``hull_from`` and ``ground_of``.
    """
    host, house = hull_from(document).bare, document.existing[name]
    if not isinstance(house, Deckhouse) or house.stand is None:
        return host
    return ground_of(house, Site(host, _roofs(host, document.existing).get(house.stand)))


def _new_parts(document: Document) -> set[str]:
    return {name for plan in document.changes.values() for name in plan.parts}


def parts_of(document: Document) -> dict[str, PartDimensions]:
    """Dimensions of the parts of a refit, by path: existing ones, then new ones."""
    existing = {f"{OLD}{name}": part for name, part in document.existing.items()}
    new = {
        f"changes.{change}.parts.{name}": part
        for change, plan in document.changes.items()
        for name, part in plan.parts.items()
    }
    return {**existing, **new}


def _roofs(host: Host, parts: Mapping[str, PartDimensions]) -> dict[str, Part]:
    """The parts that have a roof to stand on, built; those that are refused left out."""
    roofs: dict[str, Part] = {}
    for name, dimensions in parts.items():
        if kind_of(dimensions) == "deckhouse":
            with suppress(ModelError):
                stand = roofs.get(dimensions.stand or "")
                roofs[name] = KINDS["deckhouse"].build(dimensions, Site(host, stand))
    return {name: part for name, part in roofs.items() if part.roof is not None}


def kind_of(dimensions: PartDimensions) -> str:
    """The kind of a part."""
    return str(getattr(dimensions, "kind"))  # noqa: B009 - each class has its own literal


def with_offers(
    error: DocumentError, document: Document, before: Document | None = None
) -> DocumentError:
    """The refusal with what would build instead, as far as a part is refused.

    Args:
        error: of building the boat.
        document: that was refused.
        before: one that was not, as it was before an edit.
    """
    parts = parts_of(document)
    for fault in error.faults:
        for path in parts:
            if fault.place.startswith(f"{path}.") or fault.place == path:
                found = _offers(document, before, path, fault.place.removeprefix(f"{path}."))
                return DocumentError(error.faults, found)
    return error


def _offers(
    document: Document, before: Document | None, path: str, place: str
) -> tuple[Offer, ...]:
    """What builds near the dimensions of a part, or of what it stands on if that was moved."""
    parts, earlier = parts_of(document), parts_of(before) if before else {}
    stands_on = parts[path].stand
    if earlier.get(path) == parts[path] and stands_on is not None:
        below = next((p for p in parts if p.rsplit(".", 1)[1] == stands_on), path)
        path, place = below, place if below == path else ""
    refused = parts[path]
    around = surroundings_of(document, "", path)
    goods = [earlier[path]] if type(earlier.get(path)) is type(refused) else []
    with suppress(ModelError):
        old = next(iter(_gone_for(document, path)), "")
        fresh = surroundings_of(document, old, path)
        goods.append(proposal(kind_of(refused), fresh).dimensions)
    tried = _Trial(around, path.rsplit(".", 1)[1])
    found = offers(refused, place, tuple(goods), tried.build)
    return tuple(
        Offer(offer.sentence, tuple((f"{path}.{p}", value) for p, value in offer.values))
        for offer in found
    )


def _gone_for(document: Document, path: str) -> list[str]:
    """The existing part that the change of a new part replaces."""
    steps = path.split(".")
    plan = document.changes.get(steps[1]) if steps[0] == "changes" else None
    return [plan.replaces] if plan is not None and plan.replaces is not None else []


@dataclass(frozen=True, eq=False)
class _Trial:
    """A part built anew with whatever stands on it."""

    around: Surroundings
    name: str

    def build(self, dimensions: PartDimensions) -> None:
        """Build it, and what stands on it.

        Raises:
            ModelError: whatever one of them is refused for.
        """
        host = self.around.host
        stand = self.around.roofs.get(dimensions.stand or "")
        part = KINDS[kind_of(dimensions)].build(dimensions, Site(host, stand))
        for other in self.around.neighbours.values():
            if other.stand == self.name:
                KINDS[kind_of(other)].build(other, Site(host, part))
