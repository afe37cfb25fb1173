"""Dimension transfer: how much of the drawing's tolerance each working dimension may have.

With working dimensions w and drawing dimensions g = S·w each drawing tolerance T_i asks for sum |S_ij| t_j <= T_i.
The least t_j / c_j is made as great as it can be; rows that are then full are held and the rest widened evenly.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

FULL = 1e-12


def working_shares(S: NDArray[np.float64], T: NDArray[np.float64], c: NDArray[np.float64]) -> NDArray[np.float64]:
    """Half-tolerances of the working dimensions.

    Parameters
        S: (m, n) drawing dimensions per working dimension. [1]
        T: (m,) half-tolerances drawn, >= 0; infinite where nothing is asked. [mm]
        c: (n,) what the workshop holds, > 0. [mm]
    Returns
        (n,) t >= 0 with |S| t <= T; infinite where no finite row limits a working dimension. [mm]
    Raises
        ValueError: shapes that do not fit, T < 0 or c <= 0.
    """
    weight = np.abs(np.asarray(S, dtype=np.float64))
    limit, able = np.asarray(T, dtype=np.float64), np.asarray(c, dtype=np.float64)
    if weight.ndim != 2 or weight.shape != (limit.size, able.size):
        raise ValueError(f"S is {weight.shape}, T {limit.shape}, c {able.shape}; S must be (len T, len c)")
    if np.any(limit < 0) or np.any(able <= 0):
        raise ValueError("T must not be below 0 and c must be above 0")
    rows = np.isfinite(limit)
    weight, left = weight[rows], limit[rows].copy()
    share = np.zeros(able.size)
    open_ = np.ones(able.size, dtype=bool)
    while open_.any():
        load = weight[:, open_] @ able[open_]
        loaded = load > 0
        if not loaded.any():
            share[open_] = np.inf
            break
        step = max(0.0, float(np.min(left[loaded] / load[loaded])))
        share[open_] += step * able[open_]
        left = np.maximum(left - step * load, 0.0)
        full = loaded & (left <= FULL * np.maximum(limit[rows], 1.0))
        held = np.any(weight[full] > 0, axis=0)
        if not (open_ & held).any():
            break
        open_ &= ~held
    return share
