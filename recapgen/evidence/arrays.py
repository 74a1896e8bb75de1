"""The one array type of this room."""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
