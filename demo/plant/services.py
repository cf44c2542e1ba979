"""What flows in the lines, how hot, in what pipe; all values invented within ordinary practice."""

from __future__ import annotations

from dataclasses import dataclass

from supports.vocabulary import Known

ZERO_CELSIUS = 273.15


@dataclass(frozen=True, slots=True)
class Service:
    """One service.

    Parameters
    ----------
    code
        Letters within the line number.
    sizes
        Nominal sizes [in] with their schedules.
    operating, design
        Temperatures [°C].
    pressure
        Design pressure, gauge [bar].
    content
        Density of the content [kg/m³].
    insulation
        Thickness of the insulation [m].
    riser
        Shortest and longest riser [m].
    machine_at_start, machine_at_end
        A load-limited machine stands at that end.
    """

    code: str
    words: str
    sizes: tuple[tuple[int, str], ...]
    material: str
    operating: float
    design: float
    pressure: float
    content: float
    insulation: float
    riser: tuple[float, float]
    code_of_construction: str
    machine_at_start: bool = False
    machine_at_end: bool = False
    creep: Known = Known.NO

    @property
    def is_gas(self) -> bool:
        """Return whether the content is a gas or a vapour."""
        return self.content < 50.0


_POWER = "ASME B31.1"
_PROCESS = "ASME B31.3"

SERVICES: dict[str, Service] = {
    one.code: one
    for one in (
        Service(
            "MS", "main steam", ((12, "80"), (10, "80")), "9Cr-1Mo steel",
            510, 530, 95, 28, 0.150, (9, 15), _POWER, machine_at_end=True, creep=Known.YES,
        ),
        Service(
            "LS", "low-pressure steam", ((10, "40"), (12, "STD"), (8, "40")), "carbon steel",
            205, 230, 12, 6, 0.080, (5, 9), _POWER,
        ),
        Service(
            "FW", "boiler feed water", ((8, "80"), (6, "80"), (10, "80")), "carbon steel",
            165, 185, 140, 905, 0.080, (5, 10), _POWER, machine_at_start=True,
        ),
        Service(
            "HO", "hot oil", ((12, "STD"), (10, "40"), (8, "40")), "carbon steel",
            290, 320, 16, 780, 0.100, (7, 12), _PROCESS, machine_at_start=True,
        ),
        Service(
            "OV", "overhead vapour", ((24, "STD"), (20, "STD")), "carbon steel",
            140, 180, 4, 5, 0.060, (8, 16), _PROCESS,
        ),
        Service(
            "PS", "pump suction", ((16, "STD"), (12, "STD")), "carbon steel",
            120, 150, 6, 820, 0.050, (3, 6), _PROCESS, machine_at_end=True,
        ),
        Service(
            "PD", "pump discharge", ((10, "40"), (8, "40"), (6, "40")), "carbon steel",
            120, 150, 28, 820, 0.050, (4, 8), _PROCESS, machine_at_start=True,
        ),
    )
}  # fmt: skip

_ORDER = "HO MS HO PS PD LS FW OV HO MS PS PD FW LS HO OV FW PD MS LS"


def service_order() -> tuple[Service, ...]:
    """Return the services of the lines of one area, in the order of their numbers."""
    return tuple(SERVICES[code] for code in _ORDER.split())
