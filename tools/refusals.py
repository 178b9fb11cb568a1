"""Writes the tables of refusal codes from the source: tools/refusals.py [--check]."""

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
API = ROOT / "api/hullchange_api"
HOMES = (ROOT / "model/hullchange", API)
VIEWER = ROOT / "viewer/src"
CONSTANTS = VIEWER / "shared/words/constants.ts"
TABLE = "refusals.md"
HEAD = """\
# Refusals by code

Written from the source by `tools/refusals.py` (`make contract`); do not edit it by hand.
Codes are stable: tests, scripts and the viewer rely on them. Sentences may change; … stands
for a value.

"""
COLUMNS = "| code | raised in | sentence |\n|---|---|---|\n"
OFFLINE = f"""
## In the one-file page

Raised by the page itself, where no server answers.

{COLUMNS}"""

REFUSERS = {
    "ModelError": ("code", "sentence"),
    "Fault": ("code", "place", "sentence"),
    "PydanticCustomError": ("code", "sentence"),
    "Problem": (),
}
"""Calls that refuse, with their arguments in order; beside them every function of a module that
makes one of these from a code and a sentence."""
VALUE = "…"
CODE = re.compile(r"[a-z]+(-[a-z0-9]+)*")
TEXT = r"""(?:'[^']*'|"[^"]*"|`[^`]*`)"""
PROBLEM = re.compile(rf"\bproblem\(\s*\d+,\s*'([a-z-]+)',\s*{TEXT},\s*({TEXT}|[A-Z_]+),?\s*\)")
NAMED = re.compile(rf"^(?:export )?const (\w+) =\s+({TEXT})(?: as const)?;", re.MULTILINE)
Refusal = tuple[str, str, str]


def main() -> int:
    """Write both tables; with ``--check``, 1 where the committed ones are out of date."""
    stale = [home for home in HOMES if table(home) != _committed(home)]
    if "--check" in sys.argv:
        for home in stale:
            print(f"{home / TABLE} is out of date: run `make contract`.", file=sys.stderr)
        return int(bool(stale))
    for home in stale:
        (home / TABLE).write_text(table(home), encoding="utf-8")
    return 0


def _committed(home: Path) -> str:
    path = home / TABLE
    return path.read_text(encoding="utf-8") if path.is_file() else ""


def table(home: Path) -> str:
    """The table of one source root, as Markdown."""
    found = {
        (code, path.relative_to(home).as_posix(), sentence)
        for path in sorted(home.rglob("*.py"))
        for code, sentence in refusals(path.read_text(encoding="utf-8"))
    }
    with_sentence = {row[:2] for row in found if row[2]}
    rows = [row for row in sorted(found) if row[2] or row[:2] not in with_sentence]
    offline = OFFLINE + "".join(map(_line, sorted(offline_refusals()))) if home == API else ""
    return HEAD + COLUMNS + "".join(map(_line, rows)) + offline


def offline_refusals() -> Iterator[Refusal]:
    """Refusals of the one-file page: every ``problem(status, 'code', 'Title', sentence)``."""
    shared = CONSTANTS.read_text(encoding="utf-8")
    for path in sorted(VIEWER.rglob("*.ts")):
        source = path.read_text(encoding="utf-8")
        constants = dict(NAMED.findall(shared + source))
        for code, sentence in PROBLEM.findall(source):
            text = constants.get(sentence, sentence)[1:-1]
            yield code, path.relative_to(VIEWER).as_posix(), re.sub(r"\$\{.*?\}", VALUE, text)


def _line(row: Refusal) -> str:
    code, module, sentence = row
    shown = sentence.replace("|", "\\|").replace("<", "&lt;")
    return f"| `{code}` | `{module}` | {shown} |\n"


def refusals(source: str) -> Iterator[tuple[str, str]]:
    """(code, sentence) of each refusal in a module; "" where the sentence is not literal."""
    module = Module(source)
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Call):
            yield from module.refused_by_call(node)
        elif isinstance(node, ast.Assign):
            yield from module.refused_by_name(node)


class Module:
    """A parsed module in which a name can be followed to the text it stands for."""

    def __init__(self, source: str) -> None:
        self.tree = ast.parse(source)
        self.parent = {
            child: node for node in ast.walk(self.tree) for child in ast.iter_child_nodes(node)
        }
        taken = {
            node.name: tuple(argument.arg for argument in node.args.args)
            for node in ast.walk(self.tree)
            if isinstance(node, ast.FunctionDef)
            and node.returns
            and re.search("Error|Fault", ast.unparse(node.returns))
        }
        self.refusers = REFUSERS | {
            name: names for name, names in taken.items() if {"code", "sentence"} <= {*names}
        }

    def refused_by_call(self, call: ast.Call) -> Iterator[tuple[str, str]]:
        """The refusal that a call such as ``ModelError("code", "sentence")`` makes."""
        name = getattr(call.func, "id", "")
        if name not in self.refusers:
            return
        given = dict(zip(self.refusers[name], call.args, strict=False))
        given |= {word.arg: word.value for word in call.keywords if word.arg}
        code, texts = given.get("code"), given.get("sentence", given.get("title"))
        if isinstance(code, ast.Constant) and texts is not None:
            for sentence in self.texts(texts) or [""]:
                whole = name != "PydanticCustomError"
                yield str(code.value), sentence if whole else _predicate(sentence)

    def refused_by_name(self, node: ast.Assign) -> Iterator[tuple[str, str]]:
        """Refusals whose code is given to a variable called ``code`` first."""
        names = [getattr(n, "id", "") for n in getattr(node.targets[0], "elts", node.targets)]
        if "code" not in names:
            return
        rows = [node.value] if isinstance(node.value, ast.Tuple) else self._choices(node.value)
        for row in (row for row in rows if len(row.elts) == len(names)):
            by_name = dict(zip(names, row.elts, strict=True))
            for code in self.texts(by_name["code"]):
                sentences = self.texts(by_name["sentence"]) if "sentence" in by_name else []
                for sentence in sentences or [""]:
                    yield code, sentence

    def _choices(self, value: ast.expr) -> Iterator[ast.Tuple]:
        """Every tuple in the constants and variables that an expression picks from."""
        for name in (n for n in ast.walk(value) if isinstance(n, ast.Name)):
            for meant in self._values(name):
                yield from (n for n in ast.walk(meant) if isinstance(n, ast.Tuple))

    def texts(self, node: ast.AST) -> list[str]:
        """What an expression can say, values shown as …; empty where it is not literal."""
        match node:
            case ast.Constant(value=str() as text):
                return [text]
            case ast.JoinedStr(values=pieces):
                return [re.sub(f"{VALUE}+", VALUE, "".join(map(self._piece, pieces)))]
            case ast.BinOp(left=left, op=ast.Add(), right=right):
                return [a + b for a in self.texts(left) for b in self.texts(right)]
            case ast.IfExp(body=body, orelse=otherwise):
                return [*self.texts(body), *self.texts(otherwise)]
            case ast.Name():
                return [text for value in self._values(node) for text in self.texts(value)]
        return []

    def _piece(self, piece: ast.expr) -> str:
        """A literal piece of an f-string, or the constant or value in its braces."""
        if isinstance(piece, ast.Constant):
            return str(piece.value)
        inside = piece.value if isinstance(piece, ast.FormattedValue) else piece
        texts = self.texts(inside) if isinstance(inside, ast.Name) else []
        return texts[0] if len(texts) == 1 else VALUE

    def _values(self, name: ast.Name) -> list[ast.expr]:
        """What a name was last set to before it is used: in its block, then further out."""
        node: ast.AST = name
        while node in self.parent:
            above = self.parent[node]
            for block in (getattr(above, field, None) for field in above._fields):
                if isinstance(block, list) and node in block:
                    for earlier in reversed(block[: block.index(node)]):
                        if found := _assigned(earlier, name.id):
                            return found
            node = above
        return []


def _assigned(statement: ast.stmt, name: str) -> list[ast.expr]:
    """Values that a statement, or any branch of it, gives to a name."""
    if isinstance(statement, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
        return []
    return [
        node.value
        for node in ast.walk(statement)
        if isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") == name
    ]


def _predicate(message: str) -> str:
    """A message of a schema class, which names its fields in braces and follows its subject."""
    return f"{VALUE} {re.sub(r'{[a-z_]+}', VALUE, message)}."


if __name__ == "__main__":
    sys.exit(main())
