"""Odd requests to every route: what its description allows, and what it does not."""

import json
from urllib.parse import quote

from leaves import TEXTS, broken_values, leaves, with_leaf
from reviewing import uuid

ODD = (*TEXTS, "\ud800", "9" * 400, "-0", "1.0", "٣", "0x1", "1e9", "working", "None")
ODD_HEADERS = ("", '""', '"0"', '"-1"', '"9' + "9" * 30 + '"', "W/", "*", '"é"', "nan", '"1.5"')
NEVER_ENDS = "/api/refits/{refit}/events"
SLOW = ("cutting", "allowance", "archive", "page.html", "/since/", "ratios", "files/")
JSON = "application/json"


class OddRequests:
    """Draws requests, valid in most and wrong in some places."""

    def __init__(self, draw, described, document):
        """By a source of chance, what the server says of itself, and the boat's document."""
        self.draw = draw
        self._schemas = described["components"]["schemas"]
        self._operations = [
            (method.upper(), path, operation)
            for path, methods in described["paths"].items()
            for method, operation in methods.items()
            if path != NEVER_ENDS
        ]
        self._weights = [
            0.1 if any(s in path for s in SLOW) else 1.0 for _, path, _ in self._operations
        ]
        self._leaves = [(steps, value) for steps, value in leaves(document)]
        self._known = {
            **{
                "refit": ["dot"],
                "revision": ["1", "working"],
                "before": ["1"],
                "number": ["1"],
            },
            **{"comment": [uuid("c")], "attachment": [uuid("a")], "share": [uuid("s")]},
            **{"option": ["plan", None], "condition": ["cruising", None], "id": [uuid("new")]},
            "path": [".".join(map(str, steps)) for steps, _ in self._leaves[::7]],
        }

    def request(self, edit):
        """(label, method, address, how) of a request, by what the edit number is now."""
        method, path, operation = self.draw.choices(self._operations, self._weights)[0]
        query, headers = {}, {}
        for asked in operation.get("parameters", ()):
            name, where = asked["name"], asked["in"]
            if where == "path":
                text = quote(str(self._text(name, asked)).encode("utf-8", "replace"), safe="")
                path = path.replace(f"{{{name}}}", text or "%20")
            elif where == "query" and (asked.get("required") or self._chance(0.3)):
                query[name] = self._text(name, asked)
            elif name == "if-match":
                headers["If-Match"] = (
                    self.draw.choice(ODD_HEADERS) if self._chance(0.05) else f'"{edit}"'
                )
        how = {"params": {k: v for k, v in query.items() if v is not None}, "headers": headers}
        content, kind = self._body(operation, is_edit=method == "PATCH")
        if content is not None:
            how["content"], headers["Content-Type"] = content, kind
        headers["If-Match"] = headers.get("If-Match", "").encode("utf-8")
        how["params"] = {k: str(v).encode("utf-8", "replace") for k, v in how["params"].items()}
        return f"{method} {path}", method, path, how

    def _chance(self, share):
        return self.draw.random() < share

    def _text(self, name, asked):
        if self._chance(0.15):
            return self.draw.choice(ODD)
        if name in self._known:
            return self.draw.choice(self._known[name])
        return self._value(asked["schema"])

    def _body(self, operation, *, is_edit):
        sent = operation.get("requestBody", {}).get("content", {})
        if not sent:
            return None, ""
        kind, described = next(iter(sent.items()))
        if kind != JSON:
            return bytes(
                self.draw.randrange(256) for _ in range(self.draw.randrange(200))
            ), kind
        body = self._edit() if is_edit else self._value(described["schema"])
        for _ in range(self.draw.choice((0, 0, 1, 1, 2))):
            body = self._worse(body)
        text = json.dumps(body)
        if self._chance(0.04):
            text = self.draw.choice(
                (text[:-2], f"{text},", "", "[" * 5000, "9" * 5000, "\x00", '"', text * 2)
            )
        return text.encode(), JSON if self._chance(0.97) else self.draw.choice(
            ("text/plain", "", "*/*")
        )

    def _edit(self):
        return {
            "label": self.draw.choice(("an edit", "", *TEXTS)),
            "steps": [self._step() for _ in range(self.draw.choice((1, 1, 1, 2, 0)))],
            **({"gesture": "drag"} if self._chance(0.2) else {}),
            **({"condition": self.draw.choice(ODD)} if self._chance(0.05) else {}),
        }

    def _step(self):
        steps, value = self.draw.choice(self._leaves)
        path = ".".join(map(str, steps)) if self._chance(0.8) else self.draw.choice(ODD)
        if self._chance(0.1):
            path += self.draw.choice(
                (".", "..", ".x", "[0]", "[", ".-1", ".999", ".é", ".note")
            )
        if self._chance(0.15):
            return {"op": "remove", "path": path}
        others = [other for _, other in broken_values(value) if not callable(other)]
        others = [other for other in others if type(other) is not object]
        return {"op": "set", "path": path, "value": self.draw.choice(others)}

    def _worse(self, body):
        places = list(leaves(body)) if isinstance(body, dict | list) else []
        if not places:
            return self.draw.choice(ODD)
        steps, value = self.draw.choice(places)
        return with_leaf(
            body, steps, self.draw.choice([other for _, other in broken_values(value)])
        )

    def _value(self, schema):
        """A value of a schema, now and then without what may be left out."""
        if "$ref" in schema:
            return self._value(self._schemas[schema["$ref"].rsplit("/", 1)[1]])
        if "const" in schema:
            return schema["const"]
        if "enum" in schema:
            return self.draw.choice(schema["enum"])
        for key in ("anyOf", "oneOf"):
            if key in schema:
                return self._value(self.draw.choice(schema[key]))
        return self._plain(schema)

    def _plain(self, schema):
        match schema.get("type"):
            case "object":
                needed = schema.get("required", ())
                return {
                    name: self._value(inner)
                    for name, inner in schema.get("properties", {}).items()
                    if name in needed or self._chance(0.6)
                }
            case "array":
                return [
                    self._value(schema.get("items", {}))
                    for _ in range(self.draw.choice((0, 1, 2)))
                ]
            case "integer" | "number":
                return self.draw.choice(
                    (1, 2, 30, schema.get("maximum", 3), schema.get("minimum", 0))
                )
            case "boolean":
                return self._chance(0.5)
            case "string":
                return self._word(schema)
        return None

    def _word(self, schema):
        if schema.get("format") == "uuid" or "pattern" in schema:
            return self.draw.choice(("ab" * 32, uuid("c"), uuid(str(self.draw.random()))))
        if schema.get("format") == "date-time":
            moments = (
                "9999-12-31T23:59:59-12:00",
                "0001-01-01T00:00:00+14:00",
                "2026-02-30T00:00:00Z",
            )
            return self.draw.choice((*moments, "2026-01-01T00:00:00Z"))
        return self.draw.choice(
            ("words", "a name", "line,kind,x_m,y_m,z_m\nkeel,fair,0,0,0", *TEXTS)
        )
