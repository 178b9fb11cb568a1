"""The review status of a document, from its signatures: in doubt a refusal counts.

A reviewer's latest signature is the one that arrived last, whatever the clocks say. A refusal
ends only with another signature of the same reviewer. If by its clock that one was written
before the refusal, their order is uncertain: the refusal counts until the reviewer signs again.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime

from hullchange_api.wire.review import ReviewStatus, Signature, Standing, Verdict

STATUSES: Mapping[Verdict, Standing] = {
    "agreed": "signed",
    "agreed-with-conditions": "signed with conditions",
    "send-again": "sent back",
}
VERDICT_WORDS: Mapping[Verdict, str] = {
    "agreed": "agreed",
    "agreed-with-conditions": "agreed with conditions",
    "send-again": "send again",
    "not-looked-at": "not reviewed",
}
REFUSED: Verdict = "send-again"
NOT_SIGNED = "Nobody has signed this."
ReviewerAndPart = tuple[str, str | None]
"""A reviewer, and the part that was signed; None for the whole refit."""


def review_status(signatures: tuple[Signature, ...]) -> ReviewStatus:
    """The review status of a document.

    Args:
        signatures: in order of arrival.
    """
    in_force = list(_latest_signatures(signatures).values())
    refusals = [s for s in in_force if s.verdict == REFUSED]
    agreed = [s for s in in_force if s.part is None and s.verdict.startswith("agreed")]
    fresh = [s for s in agreed if not s.is_stale]
    with_conditions = [s for s in fresh if s.conditions]
    for deciding in (refusals, with_conditions, fresh, agreed):
        if deciding:
            return _status_by(max(deciding, key=lambda s: s.arrival), signatures)
    return ReviewStatus(
        standing="unsigned",
        sentence=NOT_SIGNED,
        conflicts=(),
        revision=None,
        revision_sha256=None,
    )


def superseded(signatures: tuple[Signature, ...]) -> frozenset[str]:
    """Ids of signatures that another of the same reviewer has replaced."""
    last = {s.id for s in _latest_signatures(signatures).values()}
    return frozenset(s.id for s in signatures if s.id not in last)


def _status_by(last: Signature, signatures: tuple[Signature, ...]) -> ReviewStatus:
    status = STATUSES[last.verdict]
    of = "" if last.part is None else f" for {_part_name(last)}"
    by = f"{last.author} on {_revision(last)}{of} ({last.scope})"
    sentence = f"{status.capitalize()} by {by}."
    if last.is_stale and last.verdict == REFUSED:  # no edit withdraws a refusal
        sentence = f"{sentence} Since then {last.why_stale}"
    elif last.is_stale:
        status, sentence = "stale", f"{sentence[:-1]}, and stale since: {last.why_stale}"
    return ReviewStatus(
        standing=status,
        sentence=sentence,
        conflicts=tuple(_conflicts(last, signatures)),
        revision=last.revision,
        revision_sha256=last.revision_sha256,
    )


def _latest_signatures(signatures: Iterable[Signature]) -> dict[ReviewerAndPart, Signature]:
    """The signature in force of each reviewer, on the whole and on each part."""
    return {whose: _in_force(group)[0] for whose, group in _by_reviewer(signatures).items()}


def _by_reviewer(signatures: Iterable[Signature]) -> dict[ReviewerAndPart, list[Signature]]:
    """Signatures by reviewer and part; one on the whole counts for each part too."""
    groups: dict[ReviewerAndPart, list[Signature]] = defaultdict(list)
    for one in signatures:
        reviewer = " ".join(one.author.casefold().split())
        groups[reviewer, one.part].append(one)
        if one.part is None and one.verdict != "not-looked-at":
            for name, part in list(groups):
                if name == reviewer and part is not None:
                    groups[name, part].append(one)
    return groups


def _in_force(group: list[Signature]) -> tuple[Signature, Signature | None]:
    """The signature in force of one reviewer, and another that may have been meant last."""
    current, doubtful = group[0], None
    for one in group[1:]:
        refused, refuses = current.verdict == REFUSED, one.verdict == REFUSED
        if refused and one.verdict == "not-looked-at":
            continue
        in_doubt = refused != refuses and _may_be_older(one, current)
        if refused and in_doubt:
            doubtful = one
            continue
        current, doubtful = one, current if in_doubt else None
    return current, doubtful


def _may_be_older(one: Signature, other: Signature) -> bool:
    """Whether a signature that arrived later may have been written first, by its clock."""
    is_written_here = one.written_at == one.arrived_at
    return not is_written_here and one.written_at < other.written_at


def _conflicts(last: Signature, signatures: tuple[Signature, ...]) -> Iterable[str]:
    in_force = []
    for group in _by_reviewer(signatures).values():
        current, doubtful = _in_force(group)
        if current not in in_force and current.verdict in STATUSES:
            in_force.append(current)
        if doubtful is not None:
            yield _doubt(current, doubtful)
        else:
            yield from _changed_mind(current, group)
    yield from _differ(in_force)
    yield from _clock_was_wrong(last, signatures)


def _doubt(refusal: Signature, other: Signature) -> str:
    return (
        f"“Send again” of {refusal.author} (written {_at(refusal.written_at)}) and "
        f"“{VERDICT_WORDS[other.verdict]}” (written {_at(other.written_at)}) arrived in a "
        "different order from that of their clocks: “send again” counts until "
        f"{refusal.author} signs once more."
    )


def _changed_mind(last: Signature, group: list[Signature]) -> Iterable[str]:
    other = next(
        (
            one
            for one in group
            if one.revision_sha256 == last.revision_sha256
            and one.part == last.part
            and one.verdict not in (last.verdict, "not-looked-at")
        ),
        None,
    )
    if other is not None and last.verdict in STATUSES:
        yield (
            f"{last.author} said “{VERDICT_WORDS[other.verdict]}” of {_revision(last)} first, "
            f"and “{VERDICT_WORDS[last.verdict]}” after it: the later verdict counts."
        )


def _differ(in_force: list[Signature]) -> Iterable[str]:
    """One sentence, if reviewers disagree."""
    if len({s.verdict for s in in_force}) < 2 or len({s.author for s in in_force}) < 2:
        return
    verdicts = "; ".join(
        f"{s.author} said “{VERDICT_WORDS[s.verdict]}” of {_revision(s)}"
        + ("" if s.part is None else f", {_part_name(s)}")
        + (", stale" if s.is_stale else "")
        for s in in_force
    )
    refusing = dict.fromkeys(s.author for s in in_force if s.verdict == REFUSED)
    ending = f" “Send again” counts until {' and '.join(refusing)} signs again."
    yield f"The reviewers differ: {verdicts}.{ending if refusing else ''}"


def _clock_was_wrong(last: Signature, signatures: tuple[Signature, ...]) -> Iterable[str]:
    for one in signatures:
        if one.arrival < last.arrival and (one.arrived_at or "") > (last.arrived_at or "~"):
            yield (
                f"By this server's clock “{VERDICT_WORDS[one.verdict]}” of {one.author} came "
                f"{_at(one.arrived_at or '')}, “{VERDICT_WORDS[last.verdict]}” of "
                f"{last.author} {_at(last.arrived_at or '')}, though it arrived later: the "
                "clock was wrong. The order of arrival counts."
            )


def _revision(one: Signature) -> str:
    if one.revision is None:
        return "a revision that is not here"
    return f"revision {one.revision}"


def _part_name(one: Signature) -> str:
    return (one.part or "").rsplit(".", 1)[-1].replace("-", " ")


def _at(moment: str) -> str:
    at = datetime.fromisoformat(moment)
    return f"{at.day} {at:%B %Y %H:%M} UTC"
