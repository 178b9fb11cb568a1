"""What every answer is: a frozen value that crosses the edge."""

from typing import Literal

from pydantic import BaseModel, ConfigDict

Point = tuple[float, float, float]
Stage = Literal["as_found", "refit"]
Side = Literal["port", "starboard"]


class Wire(BaseModel):
    """A frozen value that crosses the edge; unknown fields are refused."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, json_schema_serialization_defaults_required=True
    )
