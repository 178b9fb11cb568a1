"""Checks that a command overwrites none of the user's files."""

import argparse
from collections.abc import Collection
from pathlib import Path

from hullchange.document.matching import words_at
from hullchange.errors import ModelError
from hullchange_api.command_line.refit_document import plain_given


def require_new(file: Path) -> None:
    """Refuse if the file exists.

    Raises:
        ModelError: ``file-exists``.
    """
    if file.exists():
        sentence = f"{file} already exists: choose another name."
        raise ModelError("file-exists", sentence)


def require_own_folder(given: argparse.Namespace, files: Collection[str]) -> None:
    """Refuse unless the output folder is empty or holds only files of an earlier pack.

    Args:
        given: arguments of the command.
        files: names of the files to be written.

    Raises:
        ModelError: ``folder-holds-others``.
    """
    folder: Path = given.out
    read = _files_read(given)
    over = next((name for name in files if (folder / name).resolve() in read), None)
    if over is not None:
        sentence = (
            f"{folder / over} is the file this refit is read from: choose another folder."
        )
        raise ModelError("folder-holds-others", sentence)
    _require_no_others(folder, _files_in(folder).difference(files))


def require_empty_or_with(folder: Path, always: str) -> None:
    """Refuse at once if a folder holds files and not the one that every pack has.

    Raises:
        ModelError: ``folder-holds-others``.
    """
    held = _files_in(folder)
    if always not in held:
        _require_no_others(folder, held)


def _files_in(folder: Path) -> set[str]:
    return {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}


def _require_no_others(folder: Path, others: Collection[str]) -> None:
    if others:
        sentence = (
            f"The folder {folder} contains other files, such as {min(others)}, which could be "
            "mistaken for these. Empty it, or choose another."
        )
        raise ModelError("folder-holds-others", sentence)


def _files_read(given: argparse.Namespace) -> set[Path]:
    """The document, and the table of lines that it names."""
    plain = plain_given(given, option=None)
    tables = (words_at(plain, place) for place in ("hull.lines.file", "hull.file"))
    names = (name for found in tables for _, name in found)
    return {given.file.resolve(), *((given.file.parent / name).resolve() for name in names)}
