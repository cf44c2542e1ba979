"""Random lines in three dimensions against PyNiteFEA, an independent general frame program.

PyNiteFEA uses Euler-Bernoulli members, so the comparison does too; springs and stiff rods are given
to both as the same stiffness. Tolerance 1e-6 of the largest value of its kind, both ways.
"""

from dataclasses import dataclass
from math import inf

import numpy as np
import pytest
from Pynite import FEModel3D

from supports.calc.line.line import Line
from supports.calc.line.parts import LumpedMass, Masses, Node, Pipe, Section, Theory
from supports.calc.line.restraints import Anchor, Constant, Support, Variable
from supports.calc.line.solver import solve
from supports.calc.line.states import State, cold

G = 9.80665
SECTION = Section(0.0094, 1.16e-4, 2.0e11, poisson=0.3)
MASSES = Masses(75.0, 20.0, {"water": 70.0})
MODEL_PLACES = ("FX", "FY", "FZ", "MX", "MY", "MZ")


@dataclass(frozen=True)
class Case:
    line: Line
    state: State


def random_case(seed: int) -> Case:
    """Return a random walk with a branch, two anchors, constants, springs and a valve."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(8, 15))
    steps = rng.choice([-1.0, 1.0], count)[:, None] * np.eye(3)[rng.integers(0, 3, count)]
    steps = steps * rng.uniform(1.0, 5.0, count)[:, None] + rng.normal(0, 0.2, (count, 3))
    xyz = np.vstack([np.zeros(3), np.cumsum(steps, axis=0)])
    nodes = [Node(f"N{i}", *map(float, p)) for i, p in enumerate(xyz)]
    ends = [(f"N{i}", f"N{i + 1}") for i in range(count)]
    nodes.append(Node("B1", *map(float, xyz[3] + rng.normal(0, 3, 3))))
    ends.append(("N3", "B1"))
    parts = [Pipe(f"{a}-{b}", a, b, SECTION, MASSES) for a, b in ends]
    anchors = [Anchor("A1", "N0"), Anchor("A2", f"N{count}", (1e7, 2e7, 3e7, 4e6, 5e6, 6e6))]
    middle = rng.permutation(np.arange(1, count))[:4]
    supports: list[Support] = [
        *anchors,
        Constant("C1", f"N{middle[0]}", 5e3),
        Variable("V1", f"N{middle[1]}", 4e3, 8e4),
        Variable("V2", f"N{middle[2]}", 6e3, 3e7),
        Variable("V3", "B1", 0.0, 3e5),
    ]
    valve = LumpedMass("valve", f"N{middle[3]}", 400.0, tuple(rng.normal(0, 0.4, 3)))
    line = Line(f"L{seed}", tuple(nodes), tuple(parts), tuple(supports), (valve,), Theory.EULER)
    return Case(line, cold("water"))


def independent(case: Case) -> FEModel3D:
    """Build the same line in PyNiteFEA, member by member."""
    model = FEModel3D()
    model.add_material("pipe", SECTION.modulus, SECTION.shear_modulus, SECTION.poisson, 0.0)
    inertia = SECTION.second_moment
    model.add_section("pipe", SECTION.area, inertia, inertia, 2 * inertia)
    at = {}
    for node in case.line.nodes:
        model.add_node(node.name, node.x, node.y, node.z)
        at[node.name] = np.array([node.x, node.y, node.z])
    per_metre = G * (MASSES.metal + MASSES.cover + MASSES.contents["water"])
    for part in case.line.parts:
        model.add_member(part.name, part.start, part.end, "pipe", "pipe")
        model.add_member_dist_load(part.name, "FZ", -per_metre, -per_metre)
    for valve in case.line.masses:
        force = np.array([0.0, 0.0, -G * valve.mass])
        for direction, value in zip(
            MODEL_PLACES, (*force, *np.cross(valve.offset, force)), strict=True
        ):
            model.add_node_load(valve.node, direction, float(value))
    for support in case.line.supports:
        hold(model, support)
    return model


def hold(model: FEModel3D, support: Support) -> None:
    if isinstance(support, Anchor):
        for place, k in zip(("DX", "DY", "DZ", "RX", "RY", "RZ"), support.stiffness, strict=True):
            if k == inf:
                name = f"support_{place}"
                setattr(model.nodes[support.node], name, True)
            else:
                model.def_support_spring(support.node, place, k)
    elif isinstance(support, Constant | Variable):
        model.add_node_load(support.node, "FZ", support.setting)
        if isinstance(support, Variable):
            model.def_support_spring(support.node, "DZ", support.rate)


@pytest.mark.parametrize("seed", range(32))
def test_random_lines_agree(seed: int) -> None:
    case = random_case(seed)
    ours = solve(case.line, [case.state])[0]
    model = independent(case)
    model.analyze_linear()
    theirs = np.array(
        [
            [
                getattr(model.nodes[node.name], d)["Combo 1"]
                for d in ("DX", "DY", "DZ", "RX", "RY", "RZ")
            ]
            for node in case.line.nodes
        ]
    )
    assert np.abs(ours.node_movements - theirs).max() < 1e-6 * np.abs(theirs).max()
    reaction = np.array([getattr(model.nodes["N0"], f"Rxn{p}")["Combo 1"] for p in MODEL_PLACES])
    assert np.abs(reaction - ours.nozzles["A1"]).max() < 1e-6 * np.abs(reaction).max()
    assert ours.equilibrium < 1e-8
    assert abs(ours.closure or 0.0) < 1e-8
