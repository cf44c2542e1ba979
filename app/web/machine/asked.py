"""What programs name in an address: tags, numbers, days; each with an example."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from fastapi import Path, Query

LONGEST = 200

Tag = Annotated[
    str, Path(max_length=LONGEST, description="Tag of a support.", examples=["PS-1024"])
]
Position = Annotated[
    str, Path(max_length=10, description="Position of a unit there.", examples=["A"])
]
Line = Annotated[str, Path(max_length=LONGEST, description="Line number.", examples=["1-HO-1203"])]
Number = Annotated[
    str, Path(max_length=LONGEST, description="Its number.", examples=["CH-2031-001"])
]
Day = Annotated[date, Path(description="A day, counted to its end.", examples=["2031-05-04"])]
OnLine = Annotated[str, Query(max_length=LONGEST, description="Only this line.")]
OfChange = Annotated[str, Query(max_length=LONGEST, description="Only this change.")]
Words = Annotated[str, Query(max_length=LONGEST)]
