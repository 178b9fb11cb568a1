"""The numbers among the dimensions of a part: where each stands, its step and its words."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from hullchange.cache import cached
from hullchange.parts.fields import PartDimensions

UNITS = ("mm", "deg", "m")


@dataclass(frozen=True)
class Leaf:
    """Where a number stands: keys, and places in rows."""

    keys: tuple[str | int, ...]

    @property
    def path(self) -> str:
        """Its keys with dots between, without places in rows."""
        return ".".join(key for key in self.keys if isinstance(key, str))


@dataclass(frozen=True)
class DimensionRule:
    """A number among dimensions.

    Attributes:
        label: what it is called.
        unit: of it, or empty.
        step: by which it is set [in its unit].
    """

    label: str
    unit: str
    step: float

    def on_grid(self, value: float) -> float:
        """A value to the step [in its unit]."""
        number = round(round(value / self.step) * self.step, 6)
        return int(number) if self.unit == "" and self.step == 1.0 else number

    def words(self, value: float) -> str:
        """Its name with a value [in its unit]."""
        return f"{self.label} {value:.10g} {self.unit}".strip()


@cached(64)
def measures_of(kind: type[PartDimensions]) -> dict[Leaf, DimensionRule]:
    """The numbers of a kind's dimensions, in the order of its form."""
    schema = kind.model_json_schema()
    return dict(_measures((), "", schema, schema))


def at(plain: Mapping[str, Any], leaf: Leaf) -> Any:  # noqa: ANN401 - a plain value
    """What stands there; None where nothing does."""
    found: Any = plain
    for key in leaf.keys:
        if isinstance(key, str):
            found = found.get(key) if isinstance(found, Mapping) else None
        else:
            found = found[key] if isinstance(found, list) and key < len(found) else None
    return found


def with_value(plain: Mapping[str, Any], leaf: Leaf, value: float) -> dict[str, Any]:
    """The same dimensions with another number there [in its unit]."""
    return dict(_replaced(plain, leaf.keys, value))


def _replaced(inside: Any, keys: tuple[str | int, ...], value: float) -> Any:  # noqa: ANN401
    if not keys:
        return value
    first, rest = keys[0], keys[1:]
    if isinstance(inside, list):
        return [_replaced(v, rest, value) if i == first else v for i, v in enumerate(inside)]
    return {**inside, first: _replaced(inside[first], rest, value)}


def _measures(
    keys: tuple[str | int, ...],
    group: str,
    rule: Any,  # noqa: ANN401 - a schema
    root: Any,  # noqa: ANN401 - a schema
) -> Iterator[tuple[Leaf, DimensionRule]]:
    rule = _resolved(rule, root)
    if rule.get("type") in ("number", "integer"):
        key = next(k for k in reversed(keys) if isinstance(k, str))
        unit = next((u for u in UNITS if key.endswith(f"_{u}")), "")
        step = 1.0 if rule["type"] == "integer" else float(rule.get("step", 0.01))
        label = str(rule.get("title", key)).lower()
        yield Leaf(keys), DimensionRule(f"{group}: {label}" if group else label, unit, step)
    for key, inner in rule.get("properties", {}).items():
        held = _resolved(inner, root)
        is_group = "properties" in held or "prefixItems" in held
        title = str(inner.get("title") or key.rsplit("_m", 1)[0].replace("_", " ")).lower()
        yield from _measures(
            (*keys, key), _below(group, title) if is_group else group, inner, root
        )
    for place, inner in enumerate(rule.get("prefixItems", ())):
        yield from _measures((*keys, place), group, inner, root)


def _below(group: str, title: str) -> str:
    return f"{group}, {title}" if group else title


def _resolved(rule: Any, root: Any) -> Any:  # noqa: ANN401
    while "$ref" in rule or "anyOf" in rule:
        title = {"title": rule["title"]} if "title" in rule else {}
        if "anyOf" in rule:
            rule = next(one for one in rule["anyOf"] if one.get("type") != "null")
        else:
            rule = root["$defs"][rule["$ref"].rsplit("/", 1)[1]]
        rule = {**rule, **title}
    return rule
