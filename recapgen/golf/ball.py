"""The ball: the mass, size and pull of gravity that impact and flight share."""

import math

MASS_KG = 0.04593
DIAMETER_M = 0.04267
RADIUS_M = DIAMETER_M / 2
AREA_M2 = math.pi * RADIUS_M**2
GRAVITY_MPS2 = 9.80665
RAD_PER_S_PER_RPM = 2 * math.pi / 60
