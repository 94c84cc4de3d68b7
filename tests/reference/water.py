"""Liquid water and the standard atmosphere, written from the IAPWS releases and ISO 2533.

Temperatures in K, pressures in Pa absolute.
"""

from math import exp, sqrt

GRAVITY = 9.80665  # m/s2

# IAPWS R7-97(2012), table 2: exponents I, J and coefficients n of region 1
REGION_1 = (
    (0, -2, 0.14632971213167), (0, -1, -0.84548187169114), (0, 0, -0.37563603672040e1),
    (0, 1, 0.33855169168385e1), (0, 2, -0.95791963387872), (0, 3, 0.15772038513228),
    (0, 4, -0.16616417199501e-1), (0, 5, 0.81214629983568e-3), (1, -9, 0.28319080123804e-3),
    (1, -7, -0.60706301565874e-3), (1, -1, -0.18990068218419e-1), (1, 0, -0.32529748770505e-1),
    (1, 1, -0.21841717175414e-1), (1, 3, -0.52838357969930e-4), (2, -3, -0.47184321073267e-3),
    (2, 0, -0.30001780793026e-3), (2, 1, 0.47661393906987e-4), (2, 3, -0.44141845330846e-5),
    (2, 17, -0.72694996297594e-15), (3, -4, -0.31679644845054e-4), (3, 0, -0.28270797985312e-5),
    (3, 6, -0.85205128120103e-9), (4, -5, -0.22425281908000e-5), (4, -2, -0.65171222895601e-6),
    (4, 10, -0.14341729937924e-12), (5, -8, -0.40516996860117e-6), (8, -11, -0.12734301741641e-8),
    (8, -6, -0.17424871230634e-9), (21, -29, -0.68762131295531e-18),
    (23, -31, 0.14478307828521e-19), (29, -38, 0.26335781662795e-22),
    (30, -39, -0.11947622640071e-22), (31, -40, 0.18228094581404e-23),
    (32, -41, -0.93537087292458e-25),
)
GAS_CONSTANT = 461.526  # J/(kg K), of the same release

# the same release, table 34: coefficients of the saturation line (region 4)
REGION_4 = (
    0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5,
    -0.32325550322333e7, 0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6,
    -0.23855557567849, 0.65017534844798e3,
)

# IAPWS R12-08, tables 1 and 2: the dilute gas, and (i, j, H_ij) of the residual
DILUTE = (1.67752, 2.20462, 0.6366564, -0.241605)
RESIDUAL = (
    (0, 0, 5.20094e-1), (1, 0, 8.50895e-2), (2, 0, -1.08374), (3, 0, -2.89555e-1),
    (0, 1, 2.22531e-1), (1, 1, 9.99115e-1), (2, 1, 1.88797), (3, 1, 1.26613), (5, 1, 1.20573e-1),
    (0, 2, -2.81378e-1), (1, 2, -9.06851e-1), (2, 2, -7.72479e-1), (3, 2, -4.89837e-1),
    (4, 2, -2.57040e-1), (0, 3, 1.61913e-1), (1, 3, 2.57399e-1), (0, 4, -3.25372e-2),
    (3, 4, 6.98452e-2), (4, 5, 8.72102e-3), (3, 6, -4.35673e-3), (5, 6, -5.93264e-4),
)


def gibbs_by_pressure(temperature, pressure, order):
    """First or second derivative of region 1's Gibbs energy by the reduced pressure."""
    p, t = 7.1 - pressure / 16.53e6, 1386.0 / temperature - 1.222
    if order == 1:
        return -sum(n * i * p ** (i - 1) * t**j for i, j, n in REGION_1 if i)
    return sum(n * i * (i - 1) * p ** (i - 2) * t**j for i, j, n in REGION_1 if i > 1)


def specific_volume(temperature, pressure):
    """m3/kg."""
    reduced = pressure / 16.53e6
    first = gibbs_by_pressure(temperature, pressure, 1)
    return reduced * first * GAS_CONSTANT * temperature / pressure


def compressibility(temperature, pressure):
    """Isothermal, 1/Pa: -(1/v) dv/dp; v is proportional to the first derivative."""
    first = gibbs_by_pressure(temperature, pressure, 1)
    return -gibbs_by_pressure(temperature, pressure, 2) / first / 16.53e6


def saturation_pressure(temperature):
    """Pa absolute: the root of the release's quadratic."""
    n = REGION_4
    theta = temperature + n[8] / (temperature - n[9])
    a = theta * theta + n[0] * theta + n[1]
    b = n[2] * theta * theta + n[3] * theta + n[4]
    c = n[5] * theta * theta + n[6] * theta + n[7]
    return 1e6 * (2 * c / (-b + sqrt(b * b - 4 * a * c))) ** 4


def viscosity(density, temperature):
    """Pa s; without the critical term."""
    t, d = temperature / 647.096, density / 322.0
    dilute = 100 * sqrt(t) / sum(h / t**i for i, h in enumerate(DILUTE))
    residual = d * sum(h * (1 / t - 1) ** i * (d - 1) ** j for i, j, h in RESIDUAL)
    return 1e-6 * dilute * exp(residual)


def atmosphere(height):
    """Pa absolute at a geopotential height in the lowest layer of ISO 2533."""
    lapse, base, gas = 0.0065, 288.15, 287.05287
    return 101325.0 * (1 - lapse * height / base) ** (GRAVITY / (gas * lapse))
