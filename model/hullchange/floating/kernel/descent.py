"""The way down to rest: energy at an attitude, and a trust region that follows it down.

``method.md`` beside this folder says what is minimised and why in this way.
"""

import numpy as np

from hullchange.floating.kernel.below_plane import (
    add_second_moments,
    integrals,
    level,
    tank,
)
from hullchange.floating.kernel.compiled import entry, inner
from hullchange.floating.kernel.shapes import (
    LENGTHS_PER_BEAM,
    AtRest,
    FloatingBody,
    State,
    Vector,
    WaterWeight,
)
from hullchange.floating.kernel.vectors import dot, product, tilts, times, turned
from hullchange.geometry.frame import FloatArray

# "Tried": 45 loadings of nine hulls, let go from 225 attitudes and held all the way round

AT_REST = 1e-12
"""Residual of a boat at rest. Tried: 1e-14 to 1e-11 give the same answers; sums have round-off
of 1e-14, and from 1e-9 on a neutral body rests elsewhere."""

LIQUID_ACCURACY = 1e-13
"""of a tank's liquid: its level is found more closely than the boat comes to rest. Tried: 1e-15
to 1e-10 give the same answers."""

ROUGH_VOLUME = 0.1
"""of the displacement. A start further out is first sunk or lifted, at its own attitude.
Tried: 0.03 to 0.3 are alike; without it twenty starts end in another trough."""

FIRST_RADIUS, LARGEST_RADIUS, SMALLEST_RADIUS = 0.2, 0.5, 1e-13
"""of the trust region, in radians and in tenths of the beam: 11 and 29 degrees, and round-off.
Tried: a first of 0.1 costs four steps in a hundred, a largest of 0.2 thirty; 1e-9 to 1e-16 for
the smallest are alike."""

MOST_STEPS = 200
"""A boat that capsizes from upright by `UPRIGHT_STEP` takes a hundred. Tried: 50 are not
enough for some."""

POOR, GOOD, NO_BETTER = 0.25, 0.75, 1e-4
"""Shares of the promised fall in energy: below the first the radius shrinks, above the second
it grows, below the third the step is not taken.

Source: Nocedal and Wright 2006, Numerical Optimization, algorithm 4.1 (from memory)."""

ENERGY_ROUND_OFF = 50.0 * 1e-13
"""of the energy's terms. A smaller fall than this cannot be told from round-off, and the
residual decides. Tried: 1e-14 to 1e-9 are alike; with 0 one start in ten finds no rest."""

SINGULAR = 1e-14
"""of the stiffest way: a softer way has no stiffness that can be told from round-off. Tried: up
to 1e-10 it changes nothing."""

NO_PULL = 1e-13
"""of the stiffest way: a smaller slope along the softest way is round-off. Tried: up to 1e-10
it changes nothing; with 0 a prism comes to rest elsewhere."""

MOST_HALVINGS = 60
"""A bracket halved 53 times is as narrow as two numbers can be."""

SADDLE = 1e-11
"""of the stiffest way: softer than minus this, and it is a saddle or a hilltop. Tried: 1e-15
to 1e-7 are alike."""

OFF_BALANCE = np.pi / 180.0
"""[rad], or tenths of the beam: how far she is pushed off a saddle. Tried: 1e-4 to 0.1
are alike."""

NEAR_UPRIGHT = 0.98
"""Height of up: a start within 11 degrees of upright, which takes small steps in heel."""

UPRIGHT_STEP = 2.0 * np.pi / 180.0
"""[rad] Most that a boat let go near upright heels in one step. A shallow loll has been stepped
over that lay at 18 degrees, with nothing to hold her beyond 24."""


@inner
def _liquids(body: FloatingBody, up: Vector) -> tuple[WaterWeight, FloatArray]:
    """Weight with the liquids as they lie, and the second moments of their surfaces (3, 3)."""
    total, origin = body.weight.volume, body.mesh.centre
    x, y, z = body.weight.moment
    free_surface = np.zeros((3, 3))
    for number in range(len(body.tanks.volumes)):
        own = tank(body.tanks, number)
        volume, density = body.tanks.volumes[number], body.tanks.densities[number]
        offset, below = level(own, up, volume, LIQUID_ACCURACY)
        total += density * volume
        arm_x = up[0] * offset + own.centre[0] - origin[0]
        arm_y = up[1] * offset + own.centre[1] - origin[1]
        arm_z = up[2] * offset + own.centre[2] - origin[2]
        x += density * (below.moment[0] + volume * arm_x)
        y += density * (below.moment[1] + volume * arm_y)
        z += density * (below.moment[2] + volume * arm_z)
        add_second_moments(free_surface, below, density, 1.0)
    return WaterWeight(total, (x, y, z)), free_surface


@inner
def state(body: FloatingBody, up: Vector, offset: float) -> State:
    """Energy at an attitude, and its first and second derivatives.

    Args:
        body: what floats and weighs.
        up: unit vector.
        offset: [m] of the water along up, from the mesh's centre.
    """
    below = integrals(body.mesh, up, offset)
    weight, free_surface = _liquids(body, up)
    volume, length = weight.volume, body.length
    energy = dot(up, weight.moment) - volume * offset - dot(up, below.moment)
    lever = (
        weight.moment[0] - below.moment[0] - below.volume * offset * up[0],
        weight.moment[1] - below.moment[1] - below.volume * offset * up[1],
        weight.moment[2] - below.moment[2] - below.volume * offset * up[2],
    )
    second = np.zeros((3, 3))
    add_second_moments(second, below, 1.0, 0.0)
    second -= free_surface
    ways = tilts(up)
    rise = length * (below.volume - volume)
    gradient = (rise, dot(ways[0], lever), dot(ways[1], lever))
    hessian = np.empty((3, 3))
    hessian[0, 0] = length * length * below.area
    for i in range(2):
        hessian[0, 1 + i] = hessian[1 + i, 0] = -length * dot(ways[i], below.area_moment)
        pulled = product(second, ways[i])
        hessian[1 + i, 1] = dot(ways[0], pulled)
        hessian[1 + i, 2] = dot(ways[1], pulled)
        hessian[1 + i, 1 + i] -= dot(up, lever)
    if body.heel_is_free == 0.0:
        gradient = (gradient[0], 0.0, gradient[2])
        _hold_heel(hessian)
    levers = max(abs(gradient[1]), abs(gradient[2])) / LENGTHS_PER_BEAM
    residual = max(abs(gradient[0]), levers) / (volume * length)
    return State(energy, residual, gradient, hessian, below, weight, free_surface)


@inner
def _hold_heel(hessian: FloatArray) -> None:
    """Parts heel (3, 3) from offset and trim, and makes it as stiff as both together."""
    hessian[0, 1] = hessian[1, 0] = hessian[1, 2] = hessian[2, 1] = 0.0
    hessian[1, 1] = hessian[0, 0] + abs(hessian[2, 2])


@inner
def _step_within(gradient: Vector, hessian: FloatArray, radius: float) -> Vector:
    """The step within a radius that takes a quadratic lowest.

    On a saddle, where nothing tells its two sides apart, it goes to starboard.

    Source: Moré and Sorensen 1983, SIAM J. Sci. Stat. Comput. 4, 553 (from memory).
    """
    curvatures, axes = np.linalg.eigh(hessian)
    a, b, c = curvatures[0], curvatures[1], curvatures[2]
    pull = product(axes.T, gradient)
    pull = -pull[0], -pull[1], -pull[2]
    if a > SINGULAR * c:
        free = pull[0] / a, pull[1] / b, pull[2] / c
        if dot(free, free) <= radius * radius:
            return product(axes, free)
    shift = max(0.0, -a)
    if abs(pull[0]) <= NO_PULL * c:
        pull = 0.0, pull[1], pull[2]
        rest = (
            pull[0] / max(a + shift, SINGULAR * c),
            pull[1] / max(b + shift, SINGULAR * c),
            pull[2] / max(c + shift, SINGULAR * c),
        )
        over = radius * radius - dot(rest, rest)
        if over >= 0.0:
            aside = np.sqrt(over) if axes[1, 0] >= 0.0 else -np.sqrt(over)
            return product(axes, (aside, rest[1], rest[2]))
    low, high = shift, shift + np.sqrt(dot(pull, pull)) / radius
    for _ in range(MOST_HALVINGS):
        shift = 0.5 * (low + high)
        step = pull[0] / (a + shift), pull[1] / (b + shift), pull[2] / (c + shift)
        if dot(step, step) > radius * radius:
            low = shift
        else:
            high = shift
    return product(axes, (pull[0] / (a + high), pull[1] / (b + high), pull[2] / (c + high)))


@inner
def _off_balance(hessian: FloatArray) -> Vector:
    """The push off a point of balance, or nothing where it is a trough."""
    curvatures, axes = np.linalg.eigh(hessian)
    if curvatures[0] > -SADDLE * curvatures[2]:
        return 0.0, 0.0, 0.0
    return product(axes, (OFF_BALANCE if axes[1, 0] >= 0.0 else -OFF_BALANCE, 0.0, 0.0))


@inner
def _share_of_promise(here: State, there: State, step: Vector, offset: float) -> float:
    """Share of the promised fall in energy that came; within round-off, by the residual."""
    promised = -dot(here.gradient, step) - 0.5 * dot(step, product(here.hessian, step))
    terms = abs(here.energy) + here.weight.volume * abs(offset)
    if promised < ENERGY_ROUND_OFF * terms:
        return 0.5 if there.residual < here.residual else 0.0
    return (here.energy - there.energy) / promised


@inner
def _next_radius(radius: float, share: float, size: float) -> float:
    """Wider after a full step that kept its promise, narrower after one that did not."""
    if share > GOOD and size > 0.99 * radius:
        return min(2.0 * radius, LARGEST_RADIUS)
    if share < POOR:
        return radius * (0.5 if share > NO_BETTER else 0.25)
    return radius


@entry
def descend(body: FloatingBody, up: Vector, offset: float) -> AtRest:
    """The trough below a start.

    It stops where volume and levers are right to ``AT_REST``, or where round-off stops it; the
    caller looks at the residual. Let go near upright she heels in small steps, so that she
    comes to rest in the first trough on her way and not in one beyond it.

    Args:
        body: the boat.
        up: unit vector.
        offset: [m] of the water along up, from the mesh's centre.
    """
    near_upright, shortened = up[2] > NEAR_UPRIGHT, False
    here = state(body, up, offset)
    if not abs(here.below.volume - here.weight.volume) < ROUGH_VOLUME * here.weight.volume:
        offset, _ = level(body.mesh, up, here.weight.volume, ROUGH_VOLUME)
        here = state(body, up, offset)
    radius = FIRST_RADIUS
    steps = 0
    while steps < MOST_STEPS and radius > SMALLEST_RADIUS:
        at_rest = here.residual < AT_REST
        if at_rest:
            step = _off_balance(here.hessian)
        else:
            step = _step_within(here.gradient, here.hessian, radius)
        if near_upright and abs(step[1]) > UPRIGHT_STEP:
            step, shortened = times(UPRIGHT_STEP / abs(step[1]), step), True
        size = np.sqrt(dot(step, step))
        if size == 0.0 and shortened:  # the trough was reached slowly: once more, in full
            step, shortened = _step_within(here.gradient, here.hessian, radius), False
            size = np.sqrt(dot(step, step))
        if size == 0.0:
            break
        steps += 1
        up_there, offset_there = turned(up, step[1], step[2]), offset + body.length * step[0]
        there = state(body, up_there, offset_there)
        share = 1.0 if at_rest else _share_of_promise(here, there, step, offset)
        if share > NO_BETTER:
            up, offset, here = up_there, offset_there, there
        radius = _next_radius(radius, share, size)
    return AtRest(up, offset, steps, here)


@entry
def metacentric_height(body: FloatingBody, up: Vector, offset: float) -> float:
    """[m] transverse GM at an attitude, free surfaces taken off.

    Args:
        body: what floats and weighs.
        up: unit vector.
        offset: [m] of the water along up, from the mesh's centre.
    """
    here = state(body, up, offset)
    below, weight = here.below, here.weight
    across = tilts(up)[0]
    inertia = np.zeros((3, 3))
    add_second_moments(inertia, below, 1.0, 1.0)
    inertia -= here.free_surface
    above = (
        below.moment[0] / below.volume + offset * up[0] - weight.moment[0] / weight.volume,
        below.moment[1] / below.volume + offset * up[1] - weight.moment[1] / weight.volume,
        below.moment[2] / below.volume + offset * up[2] - weight.moment[2] / weight.volume,
    )
    return dot(across, product(inertia, across)) / below.volume + dot(above, up)
