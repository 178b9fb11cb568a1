"""Refusals: no answer exists, and one sentence says why, where and what to do."""

from dataclasses import dataclass


class ModelError(Exception):
    """One reason why there is no answer.

    Attributes:
        code: stable, lower case with hyphens; tests and the API rely on it.
        sentence: what is wrong and what to do about it, in plain words.
        place: dotted path of the value concerned, or "" where no single value is to blame.
    """

    def __init__(self, code: str, sentence: str, place: str = "") -> None:
        super().__init__(code, sentence, place)
        self.code = code
        self.sentence = sentence
        self.place = place

    def __str__(self) -> str:
        return f"{self.place}: {self.sentence}" if self.place else self.sentence

    def at(self, place: str) -> "ModelError":
        """The same refusal, placed at a path (a path already there is kept below it)."""
        return ModelError(
            self.code, self.sentence, f"{place}.{self.place}" if self.place else place
        )


@dataclass(frozen=True)
class Fault:
    """One thing wrong with a document: where, and in words.

    Attributes:
        code: stable, lower case with hyphens.
        place: dotted path of the value concerned, "" for the whole document.
        sentence: what is wrong and what to do about it.
        line: of the file it was read from, the first being 1; 0 where there is no file.
    """

    code: str
    place: str
    sentence: str
    line: int = 0


@dataclass(frozen=True)
class Offer:
    """Values that would be accepted in place of what was refused.

    Attributes:
        sentence: which, in words.
        values: plain values by dotted path, to be set together.
    """

    sentence: str
    values: tuple[tuple[str, object], ...]


class DocumentError(ModelError):
    """Everything that is wrong with a document, listed in one go.

    Attributes:
        faults: each with its place.
        offers: what would be accepted instead, as far as that was looked for.
    """

    def __init__(self, faults: tuple[Fault, ...], offers: tuple[Offer, ...] = ()) -> None:
        first = faults[0]
        rest = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        super().__init__(first.code, first.sentence + rest, first.place)
        self.faults, self.offers = faults, offers

    def __str__(self) -> str:
        line = self.faults[0].line
        return f"line {line}: {super().__str__()}" if line else super().__str__()
