"""The app's icon, drawn once: a framed slate with a pouch cell on it and its limits beside it, the lowest one marked.

The same shapes are written as SVG and painted as PNG, so the two cannot differ. Lengths are in units of the drawing, which
is 512 wide and high.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageDraw

INK = "#14181b"
PAPER = "#fbfaf6"
AMBER = "#f2b01e"
TEAL = "#0b4f55"

_SIDE = 512
_CENTRE = _SIDE / 2
# A launcher may cut a maskable icon down to a circle of four tenths of its side: the slate's corners stay inside.
_MASKABLE_SCALE = 0.72
# Painted larger and scaled down, for smooth edges.
_OVERSAMPLING = 4


@dataclass(frozen=True, slots=True)
class Block:
    """A filled rectangle with rounded corners."""

    left: float
    top: float
    width: float
    height: float
    radius: float
    colour: str


TILE = Block(0, 0, 512, 512, 112, TEAL)
FULL_BLEED = Block(0, 0, 512, 512, 0, TEAL)

# From the back to the front. Nothing that must be seen is thinner than 22: at 48 pixels that is two pixels.
SLATE = (
    Block(44, 44, 424, 424, 68, INK),
    # the pouch cell: two flat tabs, the pouch, and the seam across its top
    Block(116, 102, 44, 90, 6, PAPER),
    Block(194, 102, 44, 90, 6, PAPER),
    Block(92, 160, 170, 250, 18, AMBER),
    Block(92, 204, 170, 14, 0, INK),
    # the limits chalked beside it: the lowest one binds
    Block(294, 160, 128, 44, 12, PAPER),
    Block(294, 263, 58, 44, 12, AMBER),
    Block(294, 366, 98, 44, 12, PAPER),
)


def write_icons(folder: Path) -> None:
    """Write icon.svg, icon-192.png, icon-512.png and icon-maskable-512.png into `folder`, the same bytes each time."""
    folder.mkdir(parents=True, exist_ok=True)
    tile = (TILE, *SLATE)
    maskable = (FULL_BLEED, *(_drawn_in(block, _MASKABLE_SCALE) for block in SLATE))
    (folder / "icon.svg").write_text(svg(tile), encoding="utf-8", newline="\n")
    for name, blocks, side in (("icon-192", tile, 192), ("icon-512", tile, 512), ("icon-maskable-512", maskable, 512)):
        painted(blocks, side).save(folder / f"{name}.png", optimize=True)


def svg(blocks: tuple[Block, ...]) -> str:
    """Return the drawing as an SVG document."""
    rectangles = "\n".join(
        f'  <rect x="{block.left:g}" y="{block.top:g}" width="{block.width:g}" height="{block.height:g}" '
        f'rx="{block.radius:g}" fill="{block.colour}"/>'
        for block in blocks
    )
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_SIDE} {_SIDE}">\n{rectangles}\n</svg>\n'


def painted(blocks: tuple[Block, ...], side: int) -> Image.Image:
    """Return the drawing as an image, `side` pixels wide and high."""
    scale = side * _OVERSAMPLING / _SIDE
    image = Image.new("RGBA", (side * _OVERSAMPLING,) * 2)
    draw = ImageDraw.Draw(image)
    for block in blocks:
        corners = (block.left, block.top, block.left + block.width, block.top + block.height)
        # Pillow counts the last pixel in.
        left, top, right, bottom = (round(corner * scale) for corner in corners)
        draw.rounded_rectangle((left, top, right - 1, bottom - 1), round(block.radius * scale), block.colour)
    return image.resize((side, side), Image.Resampling.BOX)


def _drawn_in(block: Block, scale: float) -> Block:
    left, top = (_CENTRE + (edge - _CENTRE) * scale for edge in (block.left, block.top))
    return Block(left, top, block.width * scale, block.height * scale, block.radius * scale, block.colour)
