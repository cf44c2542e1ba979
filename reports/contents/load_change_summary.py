"""What the summary of a load change says to the engineer who must sign for it.

Loads [N], masses [kg], lengths [m], moments [N·m], shares as fractions.
"""

from __future__ import annotations

from dataclasses import dataclass

from reports.contents.common import Direction, LoadBasis, PaperHead, Signature, Turns
from reports.contents.written import set_load
from supports.calc.net_weight import Item, NetWeight, net_weight
from supports.vocabulary import SupportKind, Verdict


@dataclass(frozen=True, slots=True)
class WeightItem:
    """One item put on (positive) or taken off (negative).

    Parameters
    ----------
    mass
        [kg], signed; None is unknown.
    distance
        Along the line from its start point [m].
    offset
        Across from the pipe's axis [m], signed; makes twist.
    source
        Where the mass stands: drawing, weighing, table.
    """

    what: str
    mass: float | None
    source: str
    distance: float | None = None
    offset: float = 0.0


@dataclass(frozen=True, slots=True)
class WeightTable:
    """What is added and taken off, with sums; a sum with an unknown in it is unknown."""

    items: tuple[WeightItem, ...]
    mass_unit: str = "kg"
    load_unit: str = "kN"
    length_unit: str = "m"
    moment_unit: str = "N·m"

    @property
    def missing(self) -> tuple[str, ...]:
        """Return the items whose mass nobody knows."""
        return tuple(item.what for item in self.items if item.mass is None)

    @property
    def mass(self) -> float | None:
        """Return the net mass [kg]."""
        net = self._net()
        return net.mass if net.is_complete else None

    @property
    def weight(self) -> float | None:
        """Return the net weight [N]."""
        net = self._net()
        return net.weight if net.is_complete else None

    @property
    def centre(self) -> float | None:
        """Return the centre along the line [m], where every place is known and mass remains."""
        centre = net_weight(
            [
                Item(one.what, one.mass, None if one.distance is None else (one.distance, 0.0, 0.0))
                for one in self.items
            ]
        ).centre
        return None if centre is None else centre[0]

    @property
    def twist(self) -> float | None:
        """Return the twist about the pipe's axis [N·m]."""
        return self._net().twist

    def _net(self) -> NetWeight:
        return net_weight([Item(one.what, one.mass, (0.0, 0.0, one.offset)) for one in self.items])


@dataclass(frozen=True, slots=True)
class CaseLoad:
    """The required load in one case [N]."""

    case: str
    load: float | None
    governs: bool = False


@dataclass(frozen=True, slots=True)
class SupportRow:
    """One support of the line, before and after.

    Parameters
    ----------
    distance
        Along the line from its start point [m]; None draws it by order alone.
    required
        Governing required load after the change [N].
    low, high
        Limits counted from the nameplate [N]; None where the kind of support has none.
    used_share, weakest_share
        Shares of the room and of the weakest piece's rating.
    rule_codes
        Codes of the rules that fail or cannot be answered.
    """

    order: int
    tag: str
    kind: str
    verdict: Verdict
    load_unit: str
    other_unit: str
    present: float | None
    required: float | None
    node: str = ""
    nameplate: float | None = None
    low: float | None = None
    high: float | None = None
    distance: float | None = None
    cases: tuple[CaseLoad, ...] = ()
    used_share: float | None = None
    turns: Turns | None = None
    direction: Direction | None = None
    travel_words: str = ""
    weakest_piece: str = ""
    weakest_share: float | None = None
    rule_codes: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def is_idle(self) -> bool:
        """Return whether nothing is asked of the support: it guides, stops or damps."""
        known = self.kind in set(SupportKind)
        return known and SupportKind(self.kind).carries_no_weight and self.required is None

    @property
    def present_words(self) -> str:
        """Return the present load as written; a dash where there is nothing to set."""
        return set_load(self.present, self.load_unit, self.kind)

    @property
    def nameplate_words(self) -> str:
        """Return the nameplate's load as written; a dash where there is nothing to set."""
        return set_load(self.nameplate, self.load_unit, self.kind)

    @property
    def change(self) -> float | None:
        """Return required less present [N]."""
        if self.required is None or self.present is None:
            return None
        return self.required - self.present

    @property
    def change_share(self) -> float | None:
        """Return the change as a share of the present load."""
        if self.change is None or not self.present:
            return None
        return self.change / self.present


@dataclass(frozen=True, slots=True)
class DataDoubt:
    """One thing that could not be judged: the subject, what is missing, what follows."""

    subject: str
    missing: str
    consequence: str


@dataclass(frozen=True, slots=True)
class InBetweenState:
    """The worst nozzle use after one round of re-setting; round 0 is the start."""

    after_round: int
    nozzle: str
    share: float | None


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something taken for true, and who owns it."""

    what: str
    owner: str


@dataclass(frozen=True, slots=True)
class LoadChangeSummary:
    """The whole summary; `rows` in order along the line.

    Parameters
    ----------
    verdict_sentence
        The answer in one sentence.
    analysis_words
        Whether a full analysis must be done first, and why.
    """

    head: PaperHead
    change_number: str
    change_revision: str
    line: str
    verdict_sentence: str
    weights: WeightTable
    rows: tuple[SupportRow, ...]
    basis: LoadBasis
    analysis_words: str = ""
    doubts: tuple[DataDoubt, ...] = ()
    in_between: tuple[InBetweenState, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    signatures: tuple[Signature, ...] = ()

    @property
    def counts(self) -> dict[Verdict, int]:
        """Return the number of supports under each verdict, noughts too."""
        return {one: sum(row.verdict is one for row in self.rows) for one in Verdict}
