"""The people of the plant: invented names, every role held by somebody."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from faker import Faker

from demo.plant.seeds import SEED
from supports.vocabulary import Role

_POSTS: tuple[tuple[Role, ...], ...] = (
    (Role.STRESS_ENGINEER,),
    (Role.RESPONSIBLE_ENGINEER,),
    (Role.COORDINATOR,),
    (Role.PLANNER,),
    (Role.INSPECTOR,),
    (Role.INSPECTOR,),
    (Role.FOREMAN,),
    (Role.TECHNICIAN,),
    (Role.TECHNICIAN,),
    (Role.OPERATIONS,),
    (Role.CIVIL_ENGINEER,),
    (Role.REGISTER_KEEPER,),
    (Role.STRESS_ENGINEER, Role.REGISTER_KEEPER),
)


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody at the plant and the roles that they hold."""

    name: str
    initials: str
    roles: tuple[Role, ...]


@cache
def people() -> tuple[Person, ...]:
    """Return everybody, in a fixed order."""
    faker = Faker("en_GB")
    faker.seed_instance(SEED)
    names = [f"{faker.unique.first_name()} {faker.unique.last_name()}" for _ in _POSTS]
    return tuple(
        Person(name, "".join(part[0] for part in name.split()), roles)
        for name, roles in zip(names, _POSTS, strict=True)
    )


def holders(role: Role) -> tuple[str, ...]:
    """Return the names of those who hold a role."""
    return tuple(person.name for person in people() if role in person.roles)
