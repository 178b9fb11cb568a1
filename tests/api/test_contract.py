"""TypeScript types from an OpenAPI document."""

from typing import Annotated, Literal

from fastapi import FastAPI, Response
from pydantic import Field

from hullchange.answer.wire import Wire
from hullchange_api.contract import typescript


class Berth(Wire):
    """A place to lie."""

    side: Literal["port", "starboard"] = "port"
    at_m: tuple[float, float, float]
    length_m: Annotated[float | None, Field(description="along the quay")] = None
    tags: dict[str, tuple[str, ...]]


class Wish(Wire):
    """What is asked for."""

    at_m: tuple[float, float] | None = None


def types():
    app = FastAPI()

    @app.post("/api/berths", status_code=201)
    def add(wish: Wish) -> Berth: ...

    @app.get("/api/berths")
    def read() -> list[Berth]: ...

    @app.get("/api/berths/picture", response_class=Response)
    def picture(): ...

    return typescript(app.openapi())


def test_an_answer_always_carries_its_fields():
    expected = """
/** A place to lie. */
export interface Berth {
  readonly side: "port" | "starboard";
  readonly at_m: readonly [number, number, number];
  /** along the quay */
  readonly length_m: number | null;
  readonly tags: Readonly<Record<string, readonly (string)[]>>;
}
"""
    assert expected in types()


def test_a_request_may_leave_out_what_has_a_default():
    assert "  readonly at_m?: readonly [number, number] | null;\n" in types()


def test_calls_list_the_operations_that_answer_with_json():
    expected = """
export interface Calls {
  'GET /api/berths': { body: undefined; answer: readonly (Berth)[] };
  'POST /api/berths': { body: Wish; answer: Berth };
}
"""
    assert types().endswith(expected)
