"""A drawing as a scalable file of its own; same drawing, same bytes."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from reports.drawings.primitives import Circle, Drawing, Fill, Item, Point, Shape, Stroke, Words

CAPITALS = 0.364
"""Half the height of capitals over the size of the type [1]."""
_FONTS = "Inter, 'DejaVu Sans', Arial, sans-serif"
_PATTERNS = (
    '<defs><pattern id="hatch" width="1.1" height="1.1" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(45)"><rect width="1.1" height="1.1" fill="white"/>'
    '<line x1="0" y1="0" x2="0" y2="1.1" stroke="black" stroke-width="0.5"/></pattern>'
    '<pattern id="dots" width="1.1" height="1.1" patternUnits="userSpaceOnUse">'
    '<rect width="1.1" height="1.1" fill="white"/><circle cx="0.5" cy="0.5" r="0.25"/></pattern>'
    "</defs>"
)
_FILLS = {
    Fill.NONE: "none",
    Fill.WHITE: "white",
    Fill.BLACK: "black",
    Fill.HATCH: "url(#hatch)",
    Fill.DOTS: "url(#dots)",
}


def as_svg(drawing: Drawing) -> bytes:
    """Return the drawing as SVG, in millimetres."""
    width, height = _n(drawing.width), _n(drawing.height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img" aria-label={quoteattr(drawing.told)} '
        f'font-family="{_FONTS}">'
    )
    ground = f'<rect width="{width}" height="{height}" fill="white"/>'
    body = "\n".join(map(_item, drawing.items))
    return f"{head}\n{_PATTERNS}\n{ground}\n{body}\n</svg>\n".encode()


def _item(item: Item) -> str:
    match item:
        case Stroke():
            dash = ' stroke-dasharray="1.4 1"' if item.dashed else ""
            points = _points(item.points)
            return f'<polyline points="{points}" fill="none" {_line(item.width)}{dash}/>'
        case Shape():
            points = _points(item.points)
            return f'<polygon points="{points}" fill="{_FILLS[item.fill]}" {_line(item.width)}/>'
        case Circle():
            x, y = map(_n, item.centre)
            fill = _FILLS[item.fill]
            return (
                f'<circle cx="{x}" cy="{y}" r="{_n(item.radius)}" fill="{fill}" '
                f"{_line(item.width)}/>"
            )
        case Words():
            return _words(item)


def _words(words: Words) -> str:
    x, y = _n(words.at[0]), _n(words.at[1] + CAPITALS * words.size)
    weight = ' font-weight="700"' if words.bold else ""
    anchor = quoteattr(str(words.anchor))
    return (
        f'<text x="{x}" y="{y}" font-size="{_n(words.size)}" text-anchor={anchor}{weight}>'
        f"{escape(words.text)}</text>"
    )


def _line(width: float) -> str:
    if not width:
        return 'stroke="none"'
    return f'stroke="black" stroke-width="{_n(width)}" stroke-linejoin="round"'


def _points(points: tuple[Point, ...]) -> str:
    return " ".join(f"{_n(x)},{_n(y)}" for x, y in points)


def _n(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") if value else "0"
