"""The grammar of the document as JSON Schema, from which forms are drawn."""

from typing import Any

from hullchange.cache import cached
from hullchange.document.document import Document
from hullchange.document.sections import WATERS

JsonSchema = dict[str, Any]


@cached(1)
def document_schema() -> JsonSchema:
    """JSON Schema of a refit document (2020-12), keys as in the file.

    Beside the standard's words it has ``typical_minimum``, ``typical_maximum`` (with
    ``typical_of``, the measure of the boat whose share they are) and ``step``.
    """
    schema = Document.model_json_schema(by_alias=True)
    water = schema["$defs"]["Water"]
    schema["$defs"]["Water"] = {
        "description": water["description"],
        "oneOf": [{"enum": list(WATERS), "title": "by name"}, {**water, "title": "by density"}],
    }
    return schema
