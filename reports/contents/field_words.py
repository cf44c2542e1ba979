"""Standing words of the papers: usual cautions of the trade, and to whom they defer.

Common practice of the trade, no source: no publication fixes these sentences. They never replace
the site's own procedures.
"""

from __future__ import annotations

from reports.contents.common import LoadBasis
from reports.languages import IN_ENGLISH, Texts

DEFERENCE = (
    "The site's own procedures, permits and lifting rules, the maker's instruction for the unit, "
    "local codes and law, and the judgement of the licensed engineer in charge come before this "
    "paper. Where they differ, stop and ask."
)

STOP_RULES = (
    "Tag or serial on the unit is not the one on the page.",
    "The scale moves the wrong way, or does not move.",
    "A reading differs from the expected one by more than the page allows.",
    "The bolt is seized, at its end, or the thread left is less than the page says.",
    "A travel stop is tight. It says that the load is wrong: never drive it out.",
    "Pointer at a stop, pipe or rod moves unasked, any crack, noise or bent part.",
    "Line state is not the one on the cover, or somebody is beneath.",
)

STOP_STRIP = (
    "wrong way or no move · reading outside what the page allows · tight stop · bolt at its end · "
    "crack, noise, pipe moving · somebody beneath. Make safe, call the engineer."
)

CAUTIONS = (
    "Two people at every unit: one turns, one reads. Both may say stop.",
    "Nobody beneath. Barrier the drop zone; tie off wrenches, stops and nuts.",
    "Never undo the load bolt fully. Never open the housing. The spring inside stays loaded.",
    "Never slacken the rod, or cut or unpin anything, while the unit is unlocked.",
    "Never hammer a travel stop. A tight stop means that the load does not match.",
    "Keep hands out of lever, slots and pins: they move without warning.",
    "A second holding (hoist or prop) is rigged before any load path is opened.",
    "Surfaces may be hot. Know the way down before the first turn.",
)

READINESS = (
    "Permit in hand; line state on the cover confirmed by operations",
    "Scaffold tag valid; unit, bolt and scale within reach from it",
    "All weight of the change is on the line; welds finished and released",
    "Test water out; insulation as the calculation takes it",
    "Travel stops in or out as the register in this pack lists them",
    "Wrench size tried; oil, paint pen, torch, tape at hand",
    "Load cell or jack, if used: calibration date written here: ____________",
    "Every nameplate on this pack was read and agrees with its page",
    "Telephone numbers on the cover tried",
)

HOW_TO_COUNT = "One turn is six flats of the hexagon. Count turns and flats aloud."


WAY_BACK = (
    "WAY BACK: loads are those that stood before the work that this order takes back. The engineer "
    "in charge says which weights are on the line while it is done, and accepts the order of work."
)


def basis_words(basis: LoadBasis, say: Texts = IN_ENGLISH) -> str:
    """Return how far the required loads may be trusted."""
    if basis.screening:
        return say(SCREENED)
    return say(
        "Required loads are taken from calculation {number}, revision {revision}, as issued by "
        "the engineer in charge.",
        number=basis.calculation, revision=basis.revision,
    )  # fmt: skip


SCREENED = (
    "SCREENING: the required loads come from a hand method or a simple line calculation. They sort "
    "and order the work. The engineer in charge must accept them in writing, or replace them with "
    "a full analysis, before a bolt is turned."
)
