"""The fixed description of a day: numbers of the equations and settings of the strategies."""

from bisect import bisect_right
from math import inf, pi, sqrt

from scipy.optimize import brentq

import water
from hydraulics import Pump, pipe_loss_function
from scenario import GALLON, PSI

DAY = 86400.0
FLOAT_BAND = 0.05  # m, over which the cistern's float valve throttles
LEAST_COMPLIANCE = 1e-12  # m3/Pa
EVERYDAY_PRESSURE = 0.5e6  # Pa absolute, at which water's properties are taken


def reduced(points, valve):
    """The points behind a reducing valve, with those where it begins or ends to reduce."""
    behind = []
    for (a, va), (b, vb) in zip(points, [*points[1:], (points[0][0] + DAY, points[0][1])]):
        behind.append((a, min(va, valve)))
        if (va - valve) * (vb - valve) < 0 and b > a:
            behind.append(((a + (b - a) * (valve - va) / (vb - va)) % DAY, valve))
    return tuple(sorted(behind))


class Supply:
    """Pressure of the supply at no flow, linear between points and periodic over the day."""

    def __init__(self, points):
        first, last = points[0], points[-1]
        chain = [(last[0] - DAY, last[1]), *points, (first[0] + DAY, first[1])]
        # (start, value there, slope) of each piece; a jump at midnight leaves one of no length
        self.pieces = [
            (a, va, (vb - va) / (b - a)) for (a, va), (b, vb) in zip(chain, chain[1:]) if b > a
        ]
        self.lowest = min(value for _, value in points)
        self.mean = sum(self.piece_integral(piece) for piece in range(len(self.pieces))) / DAY

    def piece_integral(self, index):
        start, value, slope = self.pieces[index]
        end = self.pieces[index + 1][0] if index + 1 < len(self.pieces) else DAY
        a, b = max(start, 0.0), min(max(end, 0.0), DAY)
        return (b - a) * (value + slope * ((a + b) / 2 - start)) if b > a else 0.0

    def line_at(self, clock):
        """(start, value, slope) of the piece that begins at or before a time of day."""
        starts = [piece[0] for piece in self.pieces]
        return self.pieces[bisect_right(starts, clock) - 1]


class Plant:
    """A scenario in the numbers of the equations.  SI, gauge unless named absolute."""

    def __init__(self, scenario):
        self.scenario = scenario
        self.take_water()
        self.take_branch()
        self.take_supply()
        self.take_house()
        self.take_tank()
        self.take_guards()

    def item(self, name, default=None):
        value = self.scenario.get(name)
        return default if value is None else value

    def take_water(self):
        temperature = self.item("water.temperature")
        self.wall_temperature = temperature
        self.density = 1.0 / water.specific_volume(temperature, EVERYDAY_PRESSURE)
        self.viscosity = water.viscosity(self.density, temperature)
        self.bulk_modulus = 1.0 / water.compressibility(temperature, EVERYDAY_PRESSURE)
        self.weight = self.density * water.GRAVITY
        self.atmosphere = water.atmosphere(self.item("site.altitude"))
        self.boiling = water.saturation_pressure(temperature) - self.atmosphere

    def take_branch(self):
        item = self.item
        length, bore = item("service.length"), item("service.diameter")
        self.inertance = self.density * length / (pi * bore**2 / 4)
        self.pump_column = self.weight * item("pump.height", 0.0)
        main, main_bore = item("rising_main.length", 0.0), item("rising_main.diameter", bore)
        self.main_inertance = self.density * main / (pi * main_bore**2 / 4)
        self.main_loss = pipe_loss_function(
            main, main_bore, item("rising_main.roughness"), item("rising_main.loss_k"),
            self.density, self.viscosity,
        ) if main else None
        self.service_loss = pipe_loss_function(
            length, bore, item("service.roughness"), item("service.loss_k"), self.density,
            self.viscosity,
        )
        valve_area = pi * item("check_valve.diameter", bore) ** 2 / 4
        self.valve_loss = item("check_valve.loss_k") * self.density / (2 * valve_area**2)
        self.opening = item("check_valve.opening_pressure")
        self.leak_by = item("check_valve.leak_by", 0.0) / sqrt(1e5)
        s = self.scenario
        self.pump = Pump(s.flows, s.heads, s.powers, self.weight, item("pump.stopped_loss"))
        # time to 95 % is ln 20 time constants; 1 ms stands for a pump without run-up time
        self.speed_time = (item("pump.run_up_time") or 1e-3) / 2.995732273553991
        self.standby = item("energy.standby", 0.0)

    def take_supply(self):
        kind = self.item("supply.kind")
        area = self.item("supply.area")
        casing = self.item("well.casing_diameter")
        self.is_well = kind == "well"
        if self.is_well:
            area = None if casing is None else pi * casing**2 / 4
        self.level_moves = kind != "main" and area is not None
        self.drawdown = self.well_loss = 0.0
        if self.is_well:
            self.drawdown = self.weight / self.item("supply.specific_capacity")
            self.well_loss = self.weight * self.item("well.loss", 0.0)
            self.well_loss /= self.item("well.loss_flow") ** 2
        constant = self.item("supply.pressure")
        if kind != "main":
            constant = self.weight * self.item("supply.level", 0.0)
        points = ((0.0, constant),)
        if self.scenario.supply:
            scale = self.weight if self.scenario.supply_head == "level" else 1.0
            offset = self.item("supply.offset", 0.0)
            if self.scenario.supply_head == "level":
                offset /= 9806.65  # metres of conventional water
            points = tuple((t, scale * (value + offset)) for t, value in self.scenario.supply)
        self.supply = Supply(reduced(points, self.item("supply.reducing_valve", inf)))
        if self.level_moves:
            self.cistern_area = area
            self.full_level = self.item("supply.level")
            self.refill = self.item("supply.refill", 0.0)
            self.empty_level = self.item("supply.empty_level", -inf)
            self.recovery_level = min(
                self.empty_level + 0.05, (self.empty_level + self.full_level) / 2
            )

    def take_house(self):
        item = self.item
        self.reference_root = sqrt(item("demand.reference_pressure"))
        self.elevation_pressure = self.weight * item("house.elevation")
        loss = item("house.loss", 0.0)
        self.house_loss = loss / item("house.loss_flow") ** 2 if loss else 0.0
        bore = item("house.pipe_diameter")
        volume = pi * bore**2 / 4 * item("house.pipe_length")
        stiffness = item("house.pipe_wall", 0.0) * item("house.pipe_modulus", 0.0)
        elasticity = 1.0 / self.bulk_modulus + (bore / stiffness if stiffness else 0.0)
        self.pipe_compliance = max(volume * elasticity, LEAST_COMPLIANCE)
        self.leak_exponent = item("house.leak_exponent", 0.5)
        leak = item("house.leak", 0.0)
        self.leak = leak / item("house.leak_pressure") ** self.leak_exponent if leak else 0.0

    def take_tank(self):
        self.tank_volume = self.item("tank.volume", 0.0)
        self.gas = self.item("tank.gas", "thermal")
        exponents = {"isothermal": 1.0, "polytropic": self.item("tank.exponent"), "thermal": 1.4}
        self.exponent = exponents[self.gas]
        self.thermal_time = self.item("tank.time_constant")

    def take_guards(self):
        self.low_suction = self.item("guard.low_suction")
        self.suction_delay = self.item("guard.delay", 0.0)
        self.suction_retry = self.item("guard.retry", 0.0)
        self.dry_run_time = self.item("guard.dry_run_time")
        self.least_rest = self.item("guard.least_rest")
        self.warm_up = self.item("day.warm_up")

    def inflow(self, level):
        """Into cistern or casing."""
        below = self.full_level - level
        if not self.is_well:
            return self.refill * min(max(below / FLOAT_BAND, 0.0), 1.0)
        linear = self.weight * below / self.drawdown
        if self.well_loss == 0.0 or below <= 0.0:
            return linear
        # the positive root of C Q^2 + B Q - pressure
        b, c = self.drawdown, self.well_loss
        return (sqrt(b * b + 4.0 * c * self.weight * below) - b) / (2.0 * c)

    def unboosted(self, supply_pressure, flow):
        """Header pressure at a steady flow through the resting pump."""
        losses = (self.pump.stopped + self.valve_loss) * flow * flow + self.drawdown * flow
        losses += self.well_loss * flow * flow + (self.main_loss(flow) if self.main_loss else 0.0)
        return supply_pressure - self.service_loss(flow) - losses - self.opening


class Strategy:
    """Settings of one strategy for a plant, worked out where the scenario does not give them."""

    def __init__(self, name, plant):
        self.name = name
        self.prefix = name.replace("-", "_")
        self.flow_starts = name == "flow-start"
        self.start_pressure = self.start_flow = None
        self.stop_pressure = plant.item(self.prefix + ".stop_pressure")
        self.run_on = self.given(plant, "run_on", 7.0)
        getattr(self, "settle_" + self.prefix)(plant)
        self.precharge = self.settle_precharge(plant)
        self.dry_pressure = self.precharge if self.flow_starts else self.start_pressure
        lost = plant.item("tank.gas_loss", 0.0) * plant.item("tank.months", 0.0)
        self.precharge = max(self.precharge - lost, 0.0)

    def given(self, plant, setting, default):
        return plant.item(self.prefix + "." + setting, default)

    def settle_pressure_start(self, plant):
        boosted = plant.supply.lowest + plant.pump.shutoff
        self.start_pressure = self.given(plant, "start", boosted - 12.5 * PSI)
        self.stop_flow = self.given(plant, "stop_flow", 0.8 * GALLON / 60)

    def settle_flow_start(self, plant):
        self.start_flow = self.given(plant, "start_flow", GALLON / 60)
        self.stop_flow = self.given(plant, "stop_flow", 0.8 * GALLON / 60)

    def settle_peak_only(self, plant):
        mean = plant.supply.mean
        self.start_pressure = self.given(plant, "start", mean - 7.5 * PSI)
        self.stop_flow = self.given(plant, "stop_flow", None)
        if self.stop_flow is None:
            self.stop_flow = max(self.sagging_flow(plant, mean) / 2, 0.8 * GALLON / 60)

    def sagging_flow(self, plant, supply_pressure):
        """Flow that drags the unboosted header to the start pressure; 0 if none does."""

        def excess(flow):
            return plant.unboosted(supply_pressure, flow) - self.start_pressure

        if excess(0.0) <= 0.0:
            return 0.0
        most = 1e-6
        while excess(most) > 0.0:
            most *= 2.0
            if most > 1e3:
                return 0.0
        return brentq(excess, 0.0, most, xtol=1e-15, rtol=1e-13)

    def settle_precharge(self, plant):
        own = plant.item("tank.precharge", self.given(plant, "precharge", None))
        if own is not None:
            return own
        level = self.start_pressure
        if self.flow_starts:
            level = plant.unboosted(plant.supply.lowest, self.start_flow)
        return max(level - 2.0 * PSI, 0.0)
