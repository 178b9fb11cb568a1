"""The document's grammar, kinds of part and cautions as the viewer shows them."""

from hullchange.answer.cautions import CAUTIONS
from hullchange.boat.offered_names import OFFERED
from hullchange.cache import cached
from hullchange.document.pointers import POINTERS
from hullchange.document.schema import document_schema
from hullchange.parts.registry import KINDS
from hullchange_api.wire.working_copy import (
    Caution,
    DocumentChoices,
    DocumentGrammar,
    DocumentPointer,
    PartKind,
)


@cached(1)
def document_grammar() -> DocumentGrammar:
    """What a document may say, for the forms it is entered with."""
    pointers = tuple(
        DocumentPointer(
            pattern=one.pattern,
            what=one.what,
            is_key=one.is_key,
            words=one.words or one.otherwise,
            choices=tuple(
                DocumentChoices(pattern=choice.pattern, template=choice.template)
                for choice in one.choices
            ),
        )
        for one in (*POINTERS, *OFFERED)
    )
    return DocumentGrammar(document_schema=document_schema(), pointers=pointers)


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
