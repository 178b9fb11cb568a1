"""Answers from warm caches, compared with answers worked out anew."""

import json
import sys
from hashlib import sha256

from leaves import a_little_other, dotted, leaves, names_in, renamed, with_leaf
from refits import boat

from hullchange.assess.assessment import assessment
from hullchange.boat.profile import profile_of
from hullchange.cache import Cache
from hullchange.errors import ModelError
from hullchange.present.scene import scene_pieces


def every_cache():
    """Every cache there is: they sit on plain functions of modules."""
    modules = [one for name, one in sys.modules.items() if name.startswith("hullchange")]
    return {
        one for module in modules for one in vars(module).values() if isinstance(one, Cache)
    }


def empty_caches():
    """Empty every cache, so that everything is worked out anew."""
    for one in every_cache():
        one.answers.forget()


def whole_answer(plain, only, levers=map, *, drawn=False):
    """All that is answered and drawn of a document, as one text; or why it is refused."""
    try:
        built = boat(plain)
        asked = only if only in built.document.conditions else None
        answer = assessment(built, only=asked, levers=levers)
    except ModelError as error:
        return f"{error.code}: {error}"
    profile = profile_of(built, answer.conditions[-1].lcf_m)
    scene = [(piece.id, piece.role, piece.change, piece.name) for piece in scene_pieces(built)]
    glb = [sha256(repr(piece.drawn()).encode()).hexdigest() for piece in scene_pieces(built)]
    whole = [answer.model_dump_json(indent=1), profile.model_dump_json(indent=1)]
    return "\n".join([*whole, json.dumps(scene), json.dumps(glb if drawn else [])])


def documents_with_one_change(plain):
    """(what, document) of every leaf changed a little and of every name changed."""
    for steps, value in leaves(plain):
        for other in a_little_other(value):
            yield f"{dotted(steps)} = {json.dumps(other)[:60]}", with_leaf(plain, steps, other)
    for name in names_in(plain):
        yield f"{name} renamed", renamed(plain, name, f"other-{name}")


class CacheSnapshot:
    """What is kept after a document was answered, to be put back before each change of it."""

    def __init__(self, plain, only):
        """Answer it from nothing."""
        empty_caches()
        whole_answer(plain, only)
        self._only = only
        self._held = {one: one.answers.all() for one in every_cache()}

    def restore(self):
        """Keep what was kept of the document, and nothing else."""
        empty_caches()
        for one, answers in self._held.items():
            for key, answer in answers.items():
                one.answers.keep(key, answer)

    def first_difference(self, other):
        """The first line of another document's answer that what is kept spoils, or empty."""
        self.restore()
        warm = whole_answer(other, self._only)
        empty_caches()
        fresh = whole_answer(other, self._only)
        lines = zip(warm.splitlines(), fresh.splitlines(), strict=False)
        return next((f"{a} is {b}" for a, b in lines if a != b), "") if warm != fresh else ""
