"""Kinds of part and cautions as the viewer shows them."""

from hullchange.answer.cautions import CAUTIONS
from hullchange.cache import cached
from hullchange.parts.registry import KINDS
from hullchange_api.wire.working_copy import Caution, PartKind


@cached(1)
def part_kinds() -> tuple[PartKind, ...]:
    """Every kind of part that can be built, with the JSON Schema of its form."""
    return tuple(
        PartKind(
            kind=name,
            title=kind.title,
            about=kind.about,
            parameters=kind.parameters.model_json_schema(),
            example=kind.example.model_dump(mode="json", exclude_none=True),
        )
        for name, kind in KINDS.items()
    )


def cautions() -> tuple[Caution, ...]:
    """The cautions shown with every result, in print order."""
    return tuple(Caution(topic=c.topic, sentence=c.sentence, source=c.source) for c in CAUTIONS)
