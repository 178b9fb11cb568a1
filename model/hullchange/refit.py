"""The front door for Python: read a refit, change it, and ask what comes of it.

Everything that ``import hullchange`` promises stands here; what lies deeper may move.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from hullchange.errors import ModelError

if TYPE_CHECKING:
    from pydantic import JsonValue

    from hullchange.answer.assessment import Assessment, RecordResult
    from hullchange.answer.heeled import RightingLevers
    from hullchange.boat.boat import Boat


def read(file: str | Path) -> "Refit":
    """The refit in a document.

    Args:
        file: YAML, one file for a boat; tables of lines lie beside it.

    Raises:
        DocumentError: with everything that is wrong, each at its path and line.
    """
    from hullchange.document.reading import read_document

    reading = read_document(Path(file))
    return Refit(reading.plain, reading.folder)


@dataclass(frozen=True)
class Refit:
    """A refit by its document. Nothing is changed in place: each change gives a new one.

    Attributes:
        document: plain values, as YAML or JSON has them.
        folder: where files named in the document are looked for.
        option: the option that is chosen; None for the base design.
    """

    document: "Mapping[str, JsonValue]"
    folder: Path
    option: str | None = None

    def value(self, path: str) -> "JsonValue":
        """The value at a dotted path such as ``changes.drive.adds.motor.mass_kg``.

        The unit is in the last word of the path.

        Raises:
            ModelError: ``unknown-path``, ``no-value``.
        """
        from hullchange.document.options import with_option
        from hullchange.document.paths import value_at

        return value_at(with_option(self.document, self.option), path)

    def changed(self, path: str, value: "JsonValue") -> "Refit":
        """The refit with one value set; None takes away what is at the path.

        Under an option the base design stays as it is.

        Raises:
            ModelError: ``unknown-path``. A value that cannot be is refused when it is used.
        """
        from hullchange.document.options import with_option_value

        return replace(
            self, document=with_option_value(self.document, self.option, path, value)
        )

    def with_option(self, name: str | None) -> "Refit":
        """The refit with one of her options, or the base design where None."""
        return replace(self, option=name)

    def assess(self, condition: str = "", *, solids: bool = False) -> "Assessment":
        """The whole answer; of one condition alone where it is named, which is quicker.

        Args:
            condition: name of a loading condition; every one where empty.
            solids: weigh the CAD solid of each plate too, which takes seconds.

        Raises:
            DocumentError: with everything that is wrong.
            ModelError: where no answer exists, such as ``dry-survey`` or
                ``nothing-to-stand-on``.
        """
        from hullchange.answer.assessment import RecordResult
        from hullchange.assess.assessment import assessment

        record = self._record if solids else RecordResult.left_out
        return assessment(self._boat, option=self.option or "", only=condition, record=record)

    def levers(self, condition: str, stage: str = "refit") -> "RightingLevers":
        """Righting levers in a loading condition, over the whole circle of heel.

        ``heel_deg`` and ``gz_m`` are of one length; a lever is positive where it rights her.

        Args:
            condition: name of a loading condition.
            stage: ``refit`` or ``as_found``.

        Raises:
            ModelError: ``unknown-condition``; ``sinks`` and the like where she does not float;
                ``levers-incomplete`` where she cannot be followed as she heels.
        """
        row = self.assess(condition).condition(condition, stage)
        if row.righting_levers is None:
            sentence = f"Her righting levers cannot be calculated. {row.not_followed}"
            raise ModelError("levers-incomplete", sentence, f"conditions.{condition}")
        return row.righting_levers

    def cut(self, *, quick: bool = False) -> dict[str, bytes]:
        """Every file of the cut pack, by its name in the pack's folder.

        Args:
            quick: take the first nests that hold; better ones take a minute.

        Raises:
            ModelError: ``nothing-to-cut``, ``nest-fails-check``, ``file-fails-check``.
        """
        from hullchange.cutting.files import cut_files
        from hullchange.cutting.pack import GOOD, QUICK, cut_pack

        return cut_files(cut_pack(self._boat, QUICK if quick else GOOD))

    def scene(self) -> bytes:
        """The refit as binary glTF: metres, one named node for each part."""
        from hullchange.present.scene import whole_scene

        return whole_scene(self._boat)

    @cached_property
    def _boat(self) -> "Boat":
        from hullchange.boat.boat import boat_of
        from hullchange.document.options import with_option
        from hullchange.document.reading import document_of

        return boat_of(document_of(with_option(self.document, self.option), self.folder))

    @property
    def _record(self) -> "Callable[[], RecordResult]":
        from hullchange.boat.cad_record import record_result
        from hullchange.cad.solids import record_of

        parts = self._boat.parts
        return lambda: record_result(
            self._boat, {name: record_of(built.part.plates) for name, built in parts.items()}
        )
