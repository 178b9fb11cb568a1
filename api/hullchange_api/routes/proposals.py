"""Parts that fit this hull: proposed for a change, and tried before they are added."""

from typing import Annotated

from fastapi import APIRouter, Query

from hullchange.boat.appendage_proposals import proposed_appendages
from hullchange.boat.proposals import parts_as_found, proposed_parts
from hullchange.boat.raised_house import raised_house
from hullchange.parts.registry import KINDS
from hullchange_api.routes.dependencies import CopiesDep, CopyDep, Option
from hullchange_api.wire.working_copy import (
    AppendageProposal,
    OfferedValue,
    PartProposal,
    PartToTry,
    PartTrial,
    ProposedEdit,
)
from hullchange_api.working_copy.part_trials import boat_with_part

MOST_RAISED = 5.0  # [m]
router = APIRouter(
    prefix="/api/refits/{refit}/revisions/working/proposals", tags=["working copy"]
)


@router.get("")
def list_proposals(
    copies: CopiesDep,
    copy: CopyDep,
    change: Annotated[
        str | None,
        Query(description="the part is to be one of this change; an existing one if left out"),
    ] = None,
    kind: Annotated[str | None, Query(description="one kind only")] = None,
    replaces: Annotated[
        str | None, Query(description="path of the existing part whose place it takes")
    ] = None,
    option: Option = None,
) -> tuple[PartProposal, ...]:
    """What each kind of part proposes from this hull, its free deck and what stands on it."""
    document = copies.document(copy, option)
    kinds = tuple(KINDS) if kind is None else (kind,)
    proposed = (
        parts_as_found(document, kinds)
        if change is None
        else proposed_parts(document, change, kinds, replaces)
    )
    return tuple(
        PartProposal(
            kind=one.kind,
            name=one.name,
            dimensions=None
            if one.dimensions is None
            else one.dimensions.model_dump(mode="json", exclude_none=True),
            sentence=one.sentence,
            replaces=one.replaces,
        )
        for one in proposed
    )


@router.get("/appendages")
def list_appendage_proposals(
    copies: CopiesDep, copy: CopyDep, option: Option = None
) -> tuple[AppendageProposal, ...]:
    """Keels, skegs and rudders to begin from, laid under this hull by proportions."""
    return tuple(
        AppendageProposal(
            kind=one.kind,
            title=one.title,
            appendages={
                name: given.model_dump(mode="json", exclude_none=True)
                for name, given in one.appendages.items()
            },
            sentence=one.sentence,
            fits=one.fits,
        )
        for one in proposed_appendages(copies.document(copy, option))
    )


@router.get("/raised-house")
def propose_raised_house(
    copies: CopiesDep,
    copy: CopyDep,
    replaces: Annotated[str, Query(description="path of the existing house")],
    forward_m: Annotated[float, Query(ge=-MOST_RAISED, le=MOST_RAISED)],
    aft_m: Annotated[float, Query(ge=-MOST_RAISED, le=MOST_RAISED)],
    option: Option = None,
) -> ProposedEdit:
    """The edit that raises an old house by different amounts at both ends."""
    found = raised_house(copies.document(copy, option), replaces, forward_m, aft_m)
    return ProposedEdit(
        sentence=found.sentence,
        values=tuple(OfferedValue(path=path, value=value) for path, value in found.values),
    )


@router.post("/trial")
def try_part(part: PartToTry, copy: CopyDep, option: Option = None) -> PartTrial:
    """A part built on this hull and weighed; nothing is added."""
    boat = boat_with_part(copy, part, option)
    built = boat.parts[part.name]
    x, y, z = built.steel.centroid
    return PartTrial(
        mass_kg=built.steel.mass,
        at_m=(float(x), float(y), float(z)),
        findings=tuple(
            finding.sentence
            for finding in boat.findings
            if f"{finding.place}.".startswith(f"{built.path}.")
        ),
    )
