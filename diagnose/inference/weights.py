"""The numbers of a batch of rows on one structure."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .structure import Structure
from .tables import Array

Rows = slice | NDArray[np.intp]
"""Some of the rows of a batch."""


class Weights:
    """The numbers of a batch of rows: what each node's states weigh, and, where rows differ, its links and chances.

    `off` and `on` hold arrays of shape (rows,) by node id; a root starts with its prior, any other node with 1 and 1.
    `scale` multiplies the whole row. `strength` and `chance` hold only what differs from the network.
    """

    def __init__(self, structure: Structure, rows: int) -> None:
        self.rows = rows
        self.scale: Array = np.ones(rows)
        self.off: dict[str, Array] = {}
        self.on: dict[str, Array] = {}
        self.strength: dict[tuple[str, str], Array] = {}
        self.chance: dict[str, Array] = {}
        for name in structure.names:
            node = structure.network.nodes[name]
            prior = node.chance if node.kind == "root" else None
            self.off[name] = np.full(rows, 1.0 if prior is None else 1.0 - prior)
            self.on[name] = np.full(rows, 1.0 if prior is None else prior)

    def take(self, rows: Rows) -> Weights:
        """The same for some of the rows."""
        part = object.__new__(Weights)
        part.scale = self.scale[rows]
        part.rows = len(part.scale)
        part.off = {name: data[rows] for name, data in self.off.items()}
        part.on = {name: data[rows] for name, data in self.on.items()}
        part.strength = {link: data[rows] for link, data in self.strength.items()}
        part.chance = {name: data[rows] for name, data in self.chance.items()}
        return part
