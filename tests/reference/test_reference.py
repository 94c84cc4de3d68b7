"""The independent integration held against published values and closed forms.

    python3 tests/reference/test_reference.py
"""

from find_scipy import need_scipy

need_scipy()

import tempfile  # noqa: E402
import unittest  # noqa: E402
from math import atan, log10, sqrt  # noqa: E402
from pathlib import Path  # noqa: E402

from scipy.integrate import quad  # noqa: E402

import water  # noqa: E402
from day import Day  # noqa: E402
from hydraulics import friction_factor  # noqa: E402
from plant import Plant, Strategy  # noqa: E402
from scenario import PROGRAM, Scenario  # noqa: E402

BAR = 1e5
ATMOSPHERE = 101325.0
LITRE = 1e-3

# a tank on a tight valve, an open hole as only draw, pipes without length, loss or elasticity
SITE = """item,value,unit,note
water.temperature,20,degC,
supply.kind,main,,
service.length,0.1,m,
service.diameter,200,mm,
service.loss_k,0,,
check_valve.diameter,1000,mm,
check_valve.opening_pressure,0,Pa,
check_valve.loss_k,0,,
pump.run_up_time,0,s,
tank.volume,24,L,
tank.precharge,2,bar,
tank.gas,isothermal,,
house.pipe_length,0,m,
house.leak,0.1,L/s,
house.leak_pressure,1,bar,
energy.standby,0,W,
pressure_start.start,2,bar,
pressure_start.stop_pressure,3.5,bar,
guard.least_rest,0,s,
day.warm_up,0,h,
"""
# head over flow is the straight line Q = 60 - 8 p (L/min, bar); 600 W throughout
PUMP = "flow [L/min],head [m],power [W]\n0,{},600\n30,{},600\n60,0,600\n"
# the main falls away at once and leaves the house to its tank
SUPPLY = "time,pressure [bar]\n00:00:00,3.5\n00:00:01,0\n23:59:59,0\n"


def day_of(*overrides):
    """Pressure-start through ten minutes of the small system."""
    density = 1.0 / water.specific_volume(293.15, 0.5e6)
    shutoff = 7.5 * BAR / (density * water.GRAVITY)
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "site.csv").write_text(SITE)
        Path(folder, "pump.csv").write_text(PUMP.format(shutoff, shutoff / 2))
        Path(folder, "supply.csv").write_text(SUPPLY)
        plant = Plant(Scenario(folder, overrides))
    return Day(plant, Strategy("pressure-start", plant), end=600.0).run()


def compliance(pressure):
    """Of the isothermal tank with its precharge at 2 bar, m3/Pa."""
    return 24 * LITRE * (2 * BAR + ATMOSPHERE) / (pressure + ATMOSPHERE) ** 2


def hole(pressure):
    return 0.1 * LITRE * sqrt(pressure / BAR)


def pump_flow(pressure):
    return (60 - 8 * pressure / BAR) * LITRE / 60


class Water(unittest.TestCase):
    def test_density(self):
        # IAPWS R7-97(2012), table 5
        self.assertAlmostEqual(water.specific_volume(300, 3e6), 0.00100215168, delta=5e-13)
        self.assertAlmostEqual(water.specific_volume(300, 80e6), 0.000971180894, delta=5e-13)

    def test_compressibility(self):
        # the speed of sound needs more derivatives; kappa_T(500 K, 3 MPa) of the same equation
        self.assertAlmostEqual(water.compressibility(500, 3e6), 1.12892188e-9, delta=5e-18)

    def test_saturation(self):
        # IAPWS R7-97(2012), table 35
        for kelvin, expected in ((300, 3536.58941), (500, 2638897.76), (600, 12344314.6)):
            self.assertAlmostEqual(water.saturation_pressure(kelvin) / expected, 1, delta=3e-9)

    def test_viscosity(self):
        # IAPWS R12-08, table 4
        self.assertAlmostEqual(water.viscosity(998, 298.15), 889.735100e-6, delta=1e-12)
        self.assertAlmostEqual(water.viscosity(1200, 298.15), 1437.649467e-6, delta=1e-12)

    def test_atmosphere(self):
        # ISO 2533:1975, 1000 m: 898.746 hPa
        self.assertAlmostEqual(water.atmosphere(1000), 89874.6, delta=0.1)


class Friction(unittest.TestCase):
    def test_laminar(self):
        # Hagen and Poiseuille: 64 / Re
        self.assertAlmostEqual(friction_factor(1000, 0), 0.064, delta=1e-5)
        # the two ways of computing it meet
        below, above = friction_factor(1 - 1e-9, 1e-3), friction_factor(1, 1e-3)
        self.assertAlmostEqual(below, above, delta=1e-6)

    def test_turbulent(self):
        # Colebrook's implicit equation, from which Churchill's formula stays within 1 %
        for reynolds, roughness in ((1e5, 1e-2), (1e6, 1e-4), (1e6, 1e-3), (1e8, 1e-2)):
            factor = friction_factor(reynolds, roughness)
            implicit = factor
            for _ in range(50):
                inside = roughness / 3.7 + 2.51 / (reynolds * sqrt(implicit))
                implicit = (2 * log10(inside)) ** -2
            self.assertAlmostEqual(factor / implicit, 1, delta=0.01)


@unittest.skipUnless(PROGRAM.exists(), "the defaults of items come from the built program")
class Days(unittest.TestCase):
    def test_isothermal_drain(self):
        # orifice flow c sqrt(p) out of p V = const, integrated by hand with u = sqrt(p)
        def primitive(pressure):
            u, a = sqrt(pressure), ATMOSPHERE
            return u / (a * (u * u + a)) + atan(u / sqrt(a)) / a**1.5

        c = 0.1 * LITRE / sqrt(BAR)
        charge = 24 * LITRE * (2 * BAR + ATMOSPHERE)
        expected = charge / c * (primitive(3.5 * BAR) - primitive(2 * BAR))
        self.assertAlmostEqual(day_of().start_times[0], expected, delta=2e-3)

    def test_thermal_limits(self):
        # without heat the gas expands by gamma from where it stands, 3.5 bar at the wall's
        # temperature; with heat at once it keeps to Boyle
        def fall(exponent):
            full = 24 * LITRE * (2 * BAR + ATMOSPHERE) / (3.5 * BAR + ATMOSPHERE)

            def slowness(p):
                absolute = p + ATMOSPHERE
                volume = full * ((3.5 * BAR + ATMOSPHERE) / absolute) ** (1 / exponent)
                return volume / (exponent * absolute * hole(p))

            return quad(slowness, 2 * BAR, 3.5 * BAR)[0]

        for tau, exponent in (("1e7 s", 1.4), ("1e-4 s", 1.0)):
            day = day_of("tank.gas=thermal", f"tank.time_constant={tau}")
            self.assertAlmostEqual(day.start_times[0], fall(exponent), delta=5e-3)

    def test_two_pressure_cycle(self):
        # T = V/d + V/(Q - d) with flows that vary: each leg is the integral of C dp over the flow
        drain = quad(lambda p: compliance(p) / hole(p), 2 * BAR, 3.5 * BAR)[0]
        fill = quad(lambda p: compliance(p) / (pump_flow(p) - hole(p)), 2 * BAR, 3.5 * BAR)[0]
        day = day_of()
        starts, stops = day.start_times, day.stop_times
        self.assertAlmostEqual(stops[4] - starts[4], fill, delta=0.02)
        self.assertAlmostEqual(starts[5] - starts[4], drain + fill, delta=0.02)
        # 600 W while it runs and nothing else
        self.assertAlmostEqual(day.totals[0], 600 * day.run_time, delta=1e-3)

    def test_water_balance(self):
        day = day_of()
        _, supplied, delivered, leaked = day.totals
        self.assertAlmostEqual(supplied, delivered + leaked + day.stored_gain, delta=1e-6)


if __name__ == "__main__":
    unittest.main()
