"""Where a boat comes to rest, with the liquids in her tanks moving as they do.

A trust region goes down in potential energy from any start and stops at no saddle.
``method.md`` beside this file has the energy, its derivatives and the sources.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from hullchange.cache import cached
from hullchange.errors import ModelError
from hullchange.floating.envelope import Envelope
from hullchange.floating.integrals import PlaneIntegrals, about
from hullchange.floating.kernel.shapes import (
    LENGTHS_PER_BEAM,
    FloatingBody,
    Tanks,
    WaterWeight,
    vector,
)
from hullchange.floating.mesh import mesh_of, stacked
from hullchange.geometry.frame import FloatArray, WaterPlane, up_vector
from hullchange.geometry.surface import Surface
from hullchange.units import STANDARD_GRAVITY

ACCEPTED = 1e-9
"""Residual with which an answer is given; it is worse than 1e-12 only where nothing resists."""

STIFF = 1e-9
"""of displacement times beam: a GM of less than a billionth of her beam counts as none."""

OVERFULL = 1e-9
"""of a tank's capacity: a liquid's volume may be more by round-off."""


@dataclass(frozen=True, eq=False)
class Tank:
    """Liquid that finds its own level.

    Attributes:
        surface: closed inside of the tank.
        liquid_volume: [m^3].
        liquid_density: [kg/m^3].
        name: what it is called in a refusal.
    """

    surface: Surface
    liquid_volume: float
    liquid_density: float
    name: str = "a tank"

    def __post_init__(self) -> None:
        capacity = self.surface.volume
        if not 0.0 <= self.liquid_volume <= capacity * (1.0 + OVERFULL):
            sentence = (
                f"{self.name} holds {1000.0 * capacity:.0f} litres; "
                f"{1000.0 * self.liquid_volume:.0f} were given."
            )
            raise ModelError("tank-volume", sentence)

    @property
    def mass(self) -> float:
        """[kg] of the liquid."""
        return self.liquid_volume * self.liquid_density


@dataclass(frozen=True, eq=False)
class Loading:
    """What the boat weighs.

    Attributes:
        mass: [kg] of everything but the liquids in ``tanks``.
        centre: (3,) [m] of that mass.
        tanks: liquids that move.
    """

    mass: float
    centre: FloatArray
    tanks: tuple[Tank, ...] = ()

    @property
    def total_mass(self) -> float:
        """[kg] with the liquids."""
        return self.mass + sum(tank.mass for tank in self.tanks)


@dataclass(frozen=True, eq=False)
class Equilibrium:
    """A boat at rest in still water.

    Attributes:
        envelope: what floats.
        loading: what it weighs.
        water_density: [kg/m^3].
        plane: the water in the boat's frame.
        integrals: over what lies below it.
        centre_of_gravity: (3,) [m] with the liquids as they lie.
        free_surface: (3, 3) [m^4] second moments of the liquids' surfaces, each about its own
            centre, times the liquid's density over the water's.
        hessian: (3, 3) second derivatives of the potential energy over water density and
            gravity, by: rise [m] of the water at ``integrals.reference``, heel to starboard and
            trim by the stern [rad], the boat turning about that point. Exact, from the
            waterplane.
        energy: [J] potential energy of boat, liquids and water.
        residual: [-] what is left of volume over volume, or of lever over beam.
    """

    envelope: Envelope
    loading: Loading
    water_density: float
    plane: WaterPlane
    integrals: PlaneIntegrals
    centre_of_gravity: FloatArray
    free_surface: FloatArray
    hessian: FloatArray
    energy: float
    residual: float

    @property
    def mass(self) -> float:
        """[kg] displaced: boat and liquids."""
        return self.integrals.volume * self.water_density

    @property
    def buoyancy_centre(self) -> FloatArray:
        """(3,) [m] centre of the displaced water."""
        return self.integrals.buoyancy_centre

    @cached_property
    def stable(self) -> bool:
        """True where any small push is answered by a push back; False on a neutral body."""
        volume, beam = self.integrals.volume, _beam(self.envelope)
        scale = np.array([0.1 * beam, 1.0, 1.0])
        least = np.linalg.eigvalsh(self.hessian * np.outer(scale, scale))[0]
        return bool(least > STIFF * volume * beam)

    @property
    def tilts(self) -> FloatArray:
        """(2, 3) unit vectors that ``up`` moves along with heel to starboard and trim aft."""
        from hullchange.floating.kernel.vectors import tilts

        return np.array(tilts(vector(self.plane.up)))

    @property
    def gm_transverse_solid(self) -> float:
        """[m] as if the liquids were frozen where they lie."""
        return self._metacentric_height(0, self.integrals.waterplane_inertia)

    @property
    def gm_transverse(self) -> float:
        """[m] about the boat's length at the attitude reached, free surfaces taken off."""
        moving = self.integrals.waterplane_inertia - self.free_surface
        return self._metacentric_height(0, moving)

    @property
    def gm_longitudinal(self) -> float:
        """[m] about the boat's breadth at the attitude reached, free surfaces taken off."""
        moving = self.integrals.waterplane_inertia - self.free_surface
        return self._metacentric_height(1, moving)

    @property
    def metacentre_transverse(self) -> FloatArray:
        """(3,) [m] in the boat's frame; its z is KM above the design waterline."""
        tilt = self.tilts[0]
        height = tilt @ self.integrals.waterplane_inertia @ tilt / self.integrals.volume
        return self.buoyancy_centre + float(height) * self.plane.up

    @cached_property
    def upright(self) -> "Equilibrium":
        """The same boat held at no heel, free to sink and trim: where GM and KM are read.

        About a list, a loll or upside down they are other figures, which no rule means.
        """
        return _descended(self.envelope, self.loading, self.water_density, self.plane, 0.0)

    @property
    def upright_stable(self) -> bool:
        """False where she will not stay upright: what she rests at is then a loll or a list."""
        return self.upright.gm_transverse > 0.0

    @property
    def capsized(self) -> bool:
        """Whether she rests with her mast below the horizon."""
        return bool(self.plane.up[2] < 0.0)

    def _metacentric_height(self, way: int, inertia: FloatArray) -> float:
        tilt = self.tilts[way]
        above = self.buoyancy_centre - self.centre_of_gravity
        return float(tilt @ inertia @ tilt / self.integrals.volume + above @ self.plane.up)


def equilibrium(
    envelope: Envelope,
    loading: Loading,
    water_density: float,
    start: WaterPlane | None = None,
) -> Equilibrium:
    """Where the boat comes to rest, going down in energy from a start.

    Never an unstable answer: from an upright start on which she would balance without staying
    she is nudged one degree to starboard and goes on to her loll; `Equilibrium.upright_stable`
    says so.

    Args:
        envelope: what floats.
        loading: what it weighs.
        water_density: [kg/m^3].
        start: upright by default; a plane near the answer is quicker.

    Raises:
        ModelError: ``no-mass`` where the loading weighs nothing; ``sinks`` where it weighs more
            than all of the envelope displaces; ``no-volume``; ``no-equilibrium`` where the
            descent does not come to rest.
    """
    return _descended(envelope, loading, water_density, start, 1.0)


def sensitivity(rest: Equilibrium) -> FloatArray:
    """(3, 4) derivatives of the attitude by mass [kg] and its moments [kg m] (x, y, z).

    Rows as in `Equilibrium.hessian`: rise of the water at ``integrals.reference`` [m], heel to
    starboard, trim by the stern [rad]. Exact, by the implicit function theorem.
    """
    slopes = np.zeros((3, 4))
    slopes[0, 0] = -1.0
    slopes[1:, 0] = -(rest.tilts @ rest.integrals.reference)
    slopes[1:, 1:] = rest.tilts
    slopes /= -rest.water_density
    return np.asarray(np.linalg.solve(rest.hessian, slopes), dtype=np.float64)


def attitude_jacobian(rest: Equilibrium, amidships_x: float, length: float) -> FloatArray:
    """(3, 4) derivatives of sinkage [m], trim [m] and heel [rad] by mass and its moments.

    Args:
        rest: the boat at rest.
        amidships_x: [m] where sinkage is read.
        length: [m] between perpendiculars, over which trim is read.
    """
    moves = sensitivity(rest)
    up, reference = rest.plane.up, rest.integrals.reference
    turn = rest.tilts.T @ moves[1:]
    rise = moves[0] + reference @ turn
    sinkage = (rise - amidships_x * turn[0] - rest.plane.sinkage(amidships_x) * turn[2]) / up[2]
    trim = -length * (turn[0] * up[2] - up[0] * turn[2]) / up[2] ** 2
    heel = (up[1] * turn[2] - up[2] * turn[1]) / (up[1] ** 2 + up[2] ** 2)
    return np.array([sinkage, trim, heel])


def predicted(rest: Equilibrium, loading: Loading) -> WaterPlane:
    """Where the water would stand with another loading, to first order.

    Args:
        rest: a float.
        loading: not far from the one of that float.
    """
    from hullchange.floating.kernel.vectors import turned

    more = loading.mass * np.array([1.0, *loading.centre])
    more -= rest.loading.mass * np.array([1.0, *rest.loading.centre])
    rise, heel, trim = sensitivity(rest) @ more
    up = np.array(turned(vector(rest.plane.up), heel, trim))
    return WaterPlane(up, float(up @ rest.integrals.reference) + rise)


def body_of(
    envelope: Envelope, loading: Loading, water_density: float, heel_is_free: float
) -> FloatingBody:
    """The arrays of a boat afloat, for the kernel.

    Args:
        envelope: what floats.
        loading: what it weighs.
        water_density: [kg/m^3].
        heel_is_free: [-] 1.0, or 0.0 where she is held at her heel.

    Raises:
        ModelError: ``no-mass``, ``no-volume`` or ``sinks``, as `equilibrium` says.
    """
    _require_afloat(envelope, loading, water_density)
    mesh, water = envelope.mesh, loading.mass / water_density
    x, y, z = (water * (loading.centre - np.array(mesh.centre))).tolist()
    tanks, length = _stacked(loading.tanks, water_density), _beam(envelope) / LENGTHS_PER_BEAM
    return FloatingBody(mesh, tanks, WaterWeight(water, (x, y, z)), length, heel_is_free)


def _descended(
    envelope: Envelope,
    loading: Loading,
    water_density: float,
    start: WaterPlane | None,
    heel_is_free: float,
) -> Equilibrium:
    # compiled code is loaded at first use only
    from hullchange.floating.kernel.descent import descend

    body = body_of(envelope, loading, water_density, heel_is_free)
    centre = np.array(body.mesh.centre)
    offset = 0.0 if start is None else start.offset - float(start.up @ centre)
    rest = descend(body, vector(_start_up(start, heel_is_free)), offset)
    up, state, weight = np.array(rest.up), rest.state, rest.state.weight
    scale = np.array([body.length, 1.0, 1.0])
    if state.residual > ACCEPTED:
        sentence = (
            f"No position of rest was found: {state.residual:.1e} of volume or lever remains."
        )
        raise ModelError("no-equilibrium", sentence)
    return Equilibrium(
        envelope=envelope,
        loading=loading,
        water_density=water_density,
        plane=WaterPlane(up, rest.offset + float(up @ centre)),
        integrals=about(state.below, centre + up * rest.offset),
        centre_of_gravity=centre + np.array(weight.moment) / weight.volume,
        free_surface=state.free_surface,
        hessian=state.hessian / np.outer(scale, scale),
        energy=state.energy * water_density * STANDARD_GRAVITY,
        residual=state.residual,
    )


def _beam(envelope: Envelope) -> float:
    low, high = envelope.bounds[:, 1]
    return float(high - low)


def _start_up(start: WaterPlane | None, heel_is_free: float) -> FloatArray:
    if start is None:
        return up_vector(0.0, 0.0)
    return start.up if heel_is_free else up_vector(start.trim, 0.0)


def _require_afloat(envelope: Envelope, loading: Loading, water_density: float) -> None:
    mass, most = loading.total_mass, envelope.volume * water_density
    if mass <= 0.0:
        raise ModelError(
            "no-mass", f"The boat weighs {mass:.0f} kg, so there is nothing to float."
        )
    if most <= 0.0:
        raise ModelError("no-volume", "More is removed than floats: remove less.")
    if mass >= most:
        sentence = (
            f"She sinks: she weighs {mass:.0f} kg and can displace at most {most:.0f} kg. "
            f"Take off more than {mass - most:.0f} kg, or correct the mass that is too large."
        )
        raise ModelError("sinks", sentence)


@cached(256)
def _stacked(tanks: tuple[Tank, ...], water_density: float) -> Tanks:
    filled = [tank for tank in tanks if tank.liquid_volume > 0.0]
    liquids = [(tank.liquid_volume, tank.liquid_density / water_density) for tank in filled]
    return stacked([mesh_of(tank.surface) for tank in filled], liquids)
