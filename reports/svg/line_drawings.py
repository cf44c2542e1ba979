"""The drawings of a screened line as files of their own."""

from __future__ import annotations

from reports.contents.line_screening import LineScreening
from reports.drawings.as_svg import as_svg
from reports.drawings.isometric import isometric
from reports.drawings.straight import straight
from reports.languages import IN_ENGLISH, Texts


def line_svgs(paper: LineScreening, say: Texts = IN_ENGLISH) -> dict[str, bytes]:
    """Return the line in three axes and drawn straight, by the name of the drawing."""
    drawing, _ = isometric(paper.route, say)
    along = straight(paper.straight, say=say)
    return {"isometric": as_svg(drawing), "straight": as_svg(along)}
