"""The wire contract as files: OpenAPI document and the viewer's TypeScript types.

``python -m hullchange_api.contract`` writes both into the source tree; with ``--check`` it only
says whether what is committed is what the service says.
"""

import argparse
import json
from pathlib import Path
from typing import Any

from hullchange.latin import LATIN
from hullchange_api.app import create_app

Schema = dict[str, Any]

ROOT = Path(__file__).parents[2]
HEAD = "// Made by `make contract`; change the models, not this file.\n"
PLAIN = {
    "integer": "number",
    "number": "number",
    "string": "string",
    "boolean": "boolean",
    "null": "null",
}


def contract_files() -> dict[Path, str]:
    """What each generated file must hold, by its path in the source tree."""
    document = create_app().openapi()
    return {
        ROOT / "api/openapi.json": json.dumps(document, indent=1, ensure_ascii=False) + "\n",
        ROOT / "viewer/src/contract.ts": typescript(document) + _letters(),
    }


def typescript(document: Schema) -> str:
    """TypeScript types of an OpenAPI document, and one ``Calls`` map of its JSON operations."""
    named = (_declaration(n, s) for n, s in document["components"]["schemas"].items())
    calls = "".join(
        _call(f"{verb.upper()} {path}", operation)
        for path, operations in document["paths"].items()
        for verb, operation in operations.items()
    )
    return "\n".join([HEAD, *named, f"export interface Calls {{\n{calls}}}\n"])


def type_of(schema: Schema) -> str:
    """TypeScript type of a JSON Schema.

    >>> type_of({"type": "array", "items": {"anyOf": [{"type": "number"}, {"type": "null"}]}})
    'readonly (number | null)[]'
    """
    if "$ref" in schema:
        return _name(schema["$ref"].rsplit("/", 1)[-1])
    if "const" in schema:
        return json.dumps(schema["const"])
    if "enum" in schema:
        return " | ".join(json.dumps(value) for value in schema["enum"])
    for union in ("oneOf", "anyOf"):
        if union in schema:
            return " | ".join(dict.fromkeys(type_of(member) for member in schema[union]))
    return _structured(schema)


def _structured(schema: Schema) -> str:
    match schema.get("type"):
        case "array" if "prefixItems" in schema:
            return f"readonly [{', '.join(type_of(item) for item in schema['prefixItems'])}]"
        case "array":
            return f"readonly ({type_of(schema.get('items', {}))})[]"
        case "object" if "properties" in schema:
            return f"{{\n{_fields(schema)}}}"
        case "object":
            values = schema.get("additionalProperties")
            value_type = type_of(values) if isinstance(values, dict) else "unknown"
            return f"Readonly<Record<string, {value_type}>>"
        case plain:
            return PLAIN.get(str(plain), "unknown")


def _fields(schema: Schema) -> str:
    required = schema.get("required", ())
    lines = []
    for name, field in schema["properties"].items():
        if "description" in field:
            lines.append(f"  /** {field['description']} */\n")
        lines.append(f"  readonly {name}{'' if name in required else '?'}: {type_of(field)};\n")
    return "".join(lines)


def _declaration(name: str, schema: Schema) -> str:
    said = " ".join(schema.get("description", "").split())
    note = f"/** {said} */\n" if said else ""
    if "properties" in schema:
        return f"{note}export interface {_name(name)} {type_of(schema)}\n"
    return f"{note}export type {_name(name)} = {type_of(schema)};\n"


def _call(key: str, operation: Schema) -> str:
    """One line of ``Calls``; nothing for an operation that does not answer with JSON."""
    answers = (r for code, r in operation["responses"].items() if code.startswith("2"))
    answer = next((_json_body(answer) for answer in answers), {})
    if not answer:
        return ""
    body = _json_body(operation.get("requestBody", {}))
    sent = type_of(body) if body else "undefined"
    return f"  '{key}': {{ body: {sent}; answer: {type_of(answer)} }};\n"


def _letters() -> str:
    """How letters are read in Latin, so that pages and commands make the same keys."""
    rows = "".join(f"  {sign}: '{read}',\n" for sign, read in LATIN.items())
    return f"\nexport const LATIN: Readonly<Record<string, string>> = {{\n{rows}}};\n"


def _json_body(message: Schema) -> Schema:
    schema: Schema = message.get("content", {}).get("application/json", {}).get("schema", {})
    return schema


def _name(schema_name: str) -> str:
    """A TypeScript name: FastAPI tells the two sides of one class apart with a hyphen."""
    return schema_name.replace("-", "")


def main() -> None:
    """Write the files, or with ``--check`` name the one that is stale."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true", help="compare only, write nothing")
    only_compare = parser.parse_args().check
    for path, text in contract_files().items():
        if path.is_file() and path.read_text(encoding="utf-8") == text:
            continue
        if only_compare:
            raise SystemExit(f"{path.relative_to(ROOT)} is stale: run `make contract`.")
        path.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
