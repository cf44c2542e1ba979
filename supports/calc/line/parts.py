"""What a line is made of: nodes, pipes, bends, reducers, rigid bodies, lumped masses.

Coordinates in metres, z up. Section figures (area, second moment) are inputs, so that a line of
known stiffness can be calculated without knowing its pipe.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from supports.findings import Place

Vector = tuple[float, float, float]

NOWHERE = Place()
"""The place of a row that came from nowhere in particular."""

EMPTY = "empty"
"""The contents case in which every part holds nothing."""


class Theory(StrEnum):
    """Beam theory of the pipe; results say which was used."""

    EULER = "Euler-Bernoulli (no shear deformation)"
    TIMOSHENKO = "Timoshenko (with shear deformation)"


@dataclass(frozen=True, slots=True)
class Node:
    """A named point of the line, coordinates in [m], z up; `place` is where its row stands."""

    name: str
    x: float
    y: float
    z: float
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Section:
    """Stiffness of a round pipe wall.

    Parameters
    ----------
    area
        Metal area [m²].
    second_moment
        Second moment of area [m⁴]; torsion takes twice this (round pipe).
    modulus
        Modulus of elasticity [Pa].
    poisson
        Poisson's ratio [1].
    expansion
        Mean coefficient of expansion from the installation temperature [1/K].
    shear_share
        Share of the area that carries shear [1]; 0.5 for a thin round tube (textbook value).
    """

    area: float
    second_moment: float
    modulus: float
    poisson: float = 0.3
    expansion: float = 0.0
    shear_share: float = 0.5

    @property
    def shear_modulus(self) -> float:
        """E / (2 (1 + ν)) [Pa]."""
        return self.modulus / (2.0 * (1.0 + self.poisson))


@dataclass(frozen=True, slots=True)
class Masses:
    """Mass per metre [kg/m]: metal, cover (insulation with cladding), contents by case.

    A case that a part does not name is unknown, never zero; `EMPTY` is always zero.
    """

    metal: float
    cover: float = 0.0
    contents: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Pipe:
    """A straight pipe; `flexibility` [1] multiplies bending, for a chord of a bend 'as given'."""

    name: str
    start: str
    end: str
    section: Section
    masses: Masses
    flexibility: float = 1.0
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Reducer:
    """A straight reducer; its stiffness is taken as that of the mean of its two ends."""

    name: str
    start: str
    end: str
    large: Section
    small: Section
    masses: Masses
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class Bend:
    """A circular bend between its tangent points; its mass lies on the arc.

    Parameters
    ----------
    corner
        Where the tangents meet [m].
    wall, mean_radius
        Wall thickness [m] and mean radius of the pipe's wall [m], for the flexibility factor.
    flexibility
        Flexibility factor [1] 'as given'; None takes that of `bend_flexibility`.
    """

    name: str
    start: str
    end: str
    corner: Vector
    section: Section
    masses: Masses
    wall: float
    mean_radius: float
    flexibility: float | None = None
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class RigidPart:
    """A valve body or other stiff piece: does not bend; grows with heat.

    Parameters
    ----------
    mass
        Whole mass [kg], acting midway between the ends, `offset` [m] away.
    expansion
        Mean coefficient of expansion [1/K].
    """

    name: str
    start: str
    end: str
    mass: float
    offset: Vector = (0.0, 0.0, 0.0)
    expansion: float = 0.0
    place: Place = NOWHERE


@dataclass(frozen=True, slots=True)
class LumpedMass:
    """A mass [kg] whose centre of gravity stands `offset` [m] from its node on a rigid arm."""

    name: str
    node: str
    mass: float
    offset: Vector = (0.0, 0.0, 0.0)
    place: Place = NOWHERE


FlexiblePart = Pipe | Reducer | Bend
Part = FlexiblePart | RigidPart
