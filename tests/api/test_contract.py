"""TypeScript types from an OpenAPI document, and whether the committed ones are stale."""

import sys
from typing import Annotated, Literal

import pytest
from fastapi import FastAPI
from pydantic import Field

from hullchange.answer.wire import Wire
from hullchange_api import contract


class Berth(Wire):
    """A place to lie."""

    side: Literal["port", "starboard"] = "port"
    at_m: tuple[float, float, float]
    length_m: Annotated[float | None, Field(description="along the quay")] = None
    tags: dict[str, tuple[str, ...]]


class Wish(Wire):
    """What is asked for."""

    at_m: tuple[float, float] | None = None


@pytest.fixture(scope="module")
def types():
    app = FastAPI()

    @app.post("/api/berths", status_code=201)
    def add(wish: Wish) -> Berth: ...

    document = app.openapi()
    document["components"]["schemas"]["Mooring"] = {
        "title": "Mooring",
        "allOf": [
            {"$ref": "#/components/schemas/Berth"},
            {"$ref": "#/components/schemas/Wish"},
        ],
    }
    return contract.typescript(document)


def test_an_answer_always_carries_its_fields_and_cannot_be_changed(types):
    expected = """
        /** @description A place to lie. */
        readonly Berth: {
            /**
             * @default port
             * @enum {string}
             */
            readonly side: "port" | "starboard";
            readonly at_m: readonly [
                number,
                number,
                number
            ];
            /** @description along the quay */
            readonly length_m: number | null;
            readonly tags: {
                readonly [key: string]: readonly string[];
            };
        };
"""
    assert expected in types
    assert "export type Berth = components['schemas']['Berth'];" in types


def test_a_request_may_leave_out_what_has_a_default(types):
    wish = types[types.index("readonly Wish: {") :]
    assert wish.splitlines()[1].strip() == "readonly at_m?: readonly ["


def test_all_of_several_schemas_is_their_sum_not_unknown(types):
    sum_of_both = 'components["schemas"]["Berth"] & components["schemas"]["Wish"]'
    assert f"readonly Mooring: {sum_of_both};" in types


def test_a_stale_file_is_named_and_left_alone(monkeypatch, tmp_path):
    stale = tmp_path / "contract.ts"
    stale.write_text("old", encoding="utf-8")
    monkeypatch.setattr(contract, "ROOT", tmp_path)
    monkeypatch.setattr(contract, "contract_files", lambda: {stale: "new"})
    monkeypatch.setattr(sys, "argv", ["contract", "--check"])
    with pytest.raises(SystemExit, match=r"contract\.ts is stale: run `make contract`"):
        contract.main()
    assert stale.read_text(encoding="utf-8") == "old"
    monkeypatch.setattr(sys, "argv", ["contract"])
    contract.main()
    assert stale.read_text(encoding="utf-8") == "new"
