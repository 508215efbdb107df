"""Diffusion by finite volumes, exact in time: shares no code and no series with ours.

A slab, a long roll or a ball is cut into shells; what passes between two shells goes by area and difference. With the bath as one volume
more,
the whole is a linear system, and its matrix exponential carries it to any time. Errors fall with the square of the shells.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

import numpy as np
from scipy.linalg import expm
from scipy.sparse import csr_array, diags_array, eye_array, kron
from scipy.sparse.linalg import expm_multiply

SLAB, ROLL, BALL = 0, 1, 2


def shells(shape: int, theta: float, alpha: float = inf, biot: float = inf, cells: int = 48) -> tuple[float, float, float]:
    """Mean, middle and bath after ``theta``, as shares of the level: Richardson's extrapolation of ``cells`` and twice as many."""
    coarse, fine = np.array(_shells(shape, theta, alpha, biot, cells)), np.array(_shells(shape, theta, alpha, biot, 2 * cells))
    mean, middle, bath = (fine + (fine - coarse) / 3).tolist()
    return mean, middle, bath


def _shells(shape: int, theta: float, alpha: float, biot: float, cells: int) -> tuple[float, float, float]:
    h = 1.0 / cells
    faces = np.arange(cells + 1) * h
    area = faces**shape
    volume = np.diff(faces ** (shape + 1)) / (shape + 1)
    passes = area[1:] / h
    passes[-1] = area[-1] / (h / 2 + (0.0 if biot == inf else 1 / biot))
    matrix = np.zeros((cells + 1, cells + 1))
    bath = alpha * volume.sum()
    for inner in range(cells):
        outer = inner + 1
        matrix[inner, inner] -= passes[inner] / volume[inner]
        matrix[inner, outer] += passes[inner] / volume[inner]
        holds = volume[outer] if outer < cells else bath
        if holds < inf:
            matrix[outer, outer] -= passes[inner] / holds
            matrix[outer, inner] += passes[inner] / holds
    start = np.zeros(cells + 1)
    start[-1] = 1.0 if alpha == inf else 1 + 1 / alpha
    after = expm(matrix * theta) @ start
    # The middle is no cell's own: through the two innermost cells, flat at the middle.
    middle = after[0] + (after[0] - after[1]) / 8 if shape == SLAB else after[0] - (after[1] - after[0]) * _beyond(shape)
    return float(after[:-1] @ volume / volume.sum()), float(middle), float(after[-1])


def _beyond(shape: int) -> float:
    """How far the middle lies below the first cell's mean, in steps to the second: a parabola a + b r², averaged over the two cells."""
    mean = [(shape + 1) / (shape + 3) * (outer ** (shape + 3) - inner ** (shape + 3)) / (outer ** (shape + 1) - inner ** (shape + 1)) for inner, outer in ((0, 1), (1, 2))]
    return float(mean[0] / (mean[1] - mean[0]))


def block(halves: Sequence[float], spread: float, cells: int = 10) -> tuple[float, float]:
    """Mean and middle of a block in a bath that never weakens, an eighth of it solved in three directions at once; extrapolated."""
    coarse, fine = np.array(_block(halves, spread, cells)), np.array(_block(halves, spread, 2 * cells))
    mean, middle = (fine + (fine - coarse) / 3).tolist()
    return mean, middle


def _block(halves: Sequence[float], spread: float, cells: int) -> tuple[float, float]:
    matrix = csr_array(np.zeros((1, 1)))
    for half in halves:
        main = np.full(cells, -2.0)
        main[0], main[-1] = -1.0, -3.0
        line = diags_array([np.ones(cells - 1), main, np.ones(cells - 1)], offsets=[-1, 0, 1]) * (cells / half) ** 2
        matrix = csr_array(kron(matrix, eye_array(cells)) + kron(eye_array(matrix.shape[0]), line))
    missing = expm_multiply(matrix * spread, np.ones(cells ** len(halves))).reshape([cells] * len(halves))
    middle = missing
    for _ in halves:
        middle = middle[0] + (middle[0] - middle[1]) / 8
    return float(1 - missing.mean()), float(1 - middle)
