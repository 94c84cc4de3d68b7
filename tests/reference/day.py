"""One strategy through one day: SciPy's integrator between events, and the rules at events.

The state is a list of plain floats: speed, branch flow, header pressure, gas temperature, cistern
level and the integrals of the segment (sigma, energy, supplied, delivered, leaked).
"""

import warnings
from math import inf

from numpy import array
from scipy.integrate import solve_ivp

from hydraulics import smooth_power
from plant import DAY

SPEED, FLOW, PRESSURE, GAS, LEVEL, SIGMA, ENERGY, SUPPLIED, DELIVERED, LEAKED = range(10)
RTOL = 1e-8
ATOL = [1e-9, 1e-12, 1e-3, 1e-7, 1e-10, 1e-4, 1e-3, 1e-11, 1e-11, 1e-11]
# LSODA crawls along its limit of stability where a hard little system rings (an empty tank, a pipe
# and a long service pipe): after so many steps a method without such a limit goes on
MOST_STEPS = 10000
LONGEST_STEP = 300.0  # s, so that no event hides between two far apart states
MOST_INSTANTS = 400000
MOST_STARTS = 3000
# how far past a margin an event is told, so that a state resting on it tells none
PASCALS, CUBIC_METRES_A_SECOND, METRES, ROOT_SECONDS = 1e-3, 1e-12, 1e-9, 0.0


class Chatter(Exception):
    """The day has too many events to be followed."""


def many_steps(most):
    """A margin that ends a segment at its step number `most`."""
    steps, last = 0, inf

    def margin(t, y):
        nonlocal steps, last
        steps += 1
        if steps == most:
            last = t
        return last - t if last < inf else 1.0

    margin.terminal, margin.direction = True, -1
    return margin


class Day:
    """Runs a strategy through the warm-up and the day; the result stands in the attributes."""

    def __init__(self, plant, strategy, rtol=RTOL, end=DAY):
        self.plant, self.strategy, self.rtol, self.end = plant, strategy, rtol, end
        self.precharge = strategy.precharge + plant.atmosphere
        # thermal gas: m R of the charge
        self.charge = self.precharge * plant.tank_volume / plant.wall_temperature
        self.segments = 0
        self.method = "LSODA"
        self.start_times, self.stop_times = [], []
        self.run_time = 0.0
        self.totals = [0.0] * 4
        self.stored_before = 0.0
        self.list_edges()
        self.rest()

    # ---- what is known beforehand

    def list_edges(self):
        """Known events as (time, rank, order, action), warm-up first."""
        plant, edges = self.plant, []

        def add(clock, rank, action):
            for time in (clock - DAY, clock):
                if -plant.warm_up <= time < DAY:
                    edges.append((time, rank, len(edges), action))

        for start, value, slope in plant.supply.pieces:
            if 0.0 <= start < DAY and len(plant.scenario.supply) > 1:
                add(start, 0, ("supply", (start, value, slope)))
        # a step at 24:00 is the step at midnight; one at 00:00 comes after it
        for clock, flow in sorted(plant.scenario.profile, key=lambda step: step[0] != DAY):
            add(clock % DAY, 1, ("profile", flow / plant.reference_root))
        for index, (clock, *_) in enumerate(plant.scenario.draws):
            add(clock, 3, ("open", index))
        self.edges = sorted(edges, key=lambda edge: edge[:3])

    def rest(self):
        """The state at the start of the warm-up."""
        plant = self.plant
        self.time = -plant.warm_up
        clock = self.time % DAY
        start, value, slope = plant.supply.line_at(clock)
        self.line = (self.time + start - clock, value, slope)
        level = plant.full_level if plant.level_moves else 0.0
        p0 = plant.weight * level if plant.level_moves else self.line_value(self.time)
        self.y = [0.0] * 10
        self.y[PRESSURE] = max(p0, 0.0)
        self.y[GAS] = plant.wall_temperature
        self.y[LEVEL] = level
        self.on = self.valve = self.air = False
        self.wet = plant.tank_volume > 0.0 and self.tank_margin(self.y) >= 0.0
        self.draws = []  # [coefficient, closing time, sigma still to come]
        steps = plant.scenario.profile
        earlier = [flow for time, flow in steps if time <= clock] or [f for _, f in steps]
        self.profile = earlier[-1] / plant.reference_root if steps else 0.0
        self.flow_low = self.suction_low = self.header_low = False
        self.low_flow_since = self.low_suction_since = self.dry_since = None
        self.dry_spent = 0.0
        self.rest_until = self.retry_until = -inf
        self.locked = False
        self.low_suction_trips = 0

    # ---- quantities of the equations

    def line_value(self, t):
        start, value, slope = self.line
        return value + slope * (t - start)

    def supply_pressure(self, t, y):
        """At the pump, with the well's drawdown."""
        plant = self.plant
        base = plant.weight * y[LEVEL] if plant.level_moves else self.line_value(t)
        if plant.level_moves or not self.valve or y[FLOW] <= 0.0:
            return base
        return base - (plant.drawdown + plant.well_loss * y[FLOW]) * y[FLOW]

    def rise_at_rest(self, y):
        """The pump's pressure at no flow."""
        return 0.0 if self.air else self.plant.pump.rise(0.0, y[SPEED])

    def empty_pressure(self, y):
        if self.plant.gas == "thermal":
            return self.charge * y[GAS] / self.plant.tank_volume
        return self.precharge

    def tank_margin(self, y):
        return y[PRESSURE] + self.plant.atmosphere - self.empty_pressure(y)

    def gas_volume(self, y):
        plant = self.plant
        if not self.wet:
            return plant.tank_volume
        absolute = y[PRESSURE] + plant.atmosphere
        if plant.gas == "thermal":
            return self.charge * y[GAS] / absolute
        return plant.tank_volume * (self.precharge / absolute) ** (1.0 / plant.exponent)

    def stored(self):
        """Water in tank and pipes, less a constant."""
        return self.plant.pipe_compliance * self.y[PRESSURE] - self.gas_volume(self.y)

    def suction(self, t, y):
        """At the pump's inlet: the supply's less losses and less what speeds up the water."""
        plant = self.plant
        if not self.valve:
            return self.supply_pressure(t, y) - plant.pump_column
        rise = 0.0 if self.air else plant.pump.rise(y[FLOW], y[SPEED])
        if plant.main_loss is None:
            return max(y[PRESSURE] - rise - plant.pump_column, plant.boiling)
        q = y[FLOW]
        before = self.supply_pressure(t, y) - plant.service_loss(q) - plant.opening
        before -= plant.valve_loss * q * abs(q)
        drive = before + rise - plant.main_loss(q) - y[PRESSURE]
        dq = drive / (plant.inertance + plant.main_inertance)
        return max(before - plant.inertance * dq - plant.pump_column, plant.boiling)

    def valve_margin(self, t, y):
        inlet = max(y[PRESSURE] - self.rise_at_rest(y), self.plant.boiling + self.plant.pump_column)
        return self.supply_pressure(t, y) - inlet - self.plant.opening

    def start_margin(self, y):
        if self.strategy.flow_starts:
            return self.strategy.start_flow - y[FLOW]
        return y[PRESSURE] - self.strategy.start_pressure

    def tap_coefficient(self):
        return self.profile + sum(draw[0] for draw in self.draws)

    # ---- the right-hand side

    def derivative_function(self):
        """The right-hand side for the present mode, everything fixed bound to a local name."""
        plant, valve, on, wet, air = self.plant, self.valve, self.on, self.wet, self.air
        rise, power = plant.pump.rise, plant.pump.power
        service_loss, valve_loss = plant.service_loss, plant.valve_loss
        inertance, opening, drawdown = plant.inertance, plant.opening, plant.drawdown
        boiling = plant.boiling + plant.pump_column
        well_loss, main_loss, inflow = plant.well_loss, plant.main_loss, plant.inflow
        both = inertance + plant.main_inertance
        line_start, line_value, line_slope = self.line
        moves, weight = plant.level_moves, plant.weight
        command, speed_time = (1.0 if on else 0.0), plant.speed_time
        standby, leak_by = plant.standby, plant.leak_by
        c = self.tap_coefficient()
        elevation, throttle = plant.elevation_pressure, 1.0 / (1.0 + plant.house_loss * c * c)
        leak, leak_exponent = plant.leak, plant.leak_exponent
        atmosphere, pipe, exponent = plant.atmosphere, plant.pipe_compliance, plant.exponent
        thermal, wall, tau = plant.gas == "thermal", plant.wall_temperature, plant.thermal_time
        # gas volume = hold p_a^(-1/n), thermal: charge T / p_a
        charge = self.charge
        root = 1.0 / exponent
        hold = plant.tank_volume * self.precharge**root

        def derivative(t, y):
            s, q, p, gas, level = y.tolist()[:5]
            p0 = weight * level if moves else line_value + line_slope * (t - line_start)
            power_now = standby
            by = flow_in = dq = 0.0
            if valve:
                flow_in = q
                if q > 0.0 and not moves:
                    p0 -= drawdown * q + well_loss * q * q
                losses = service_loss(q) + opening + valve_loss * q * abs(q)
                if main_loss is None:
                    dq = (p0 - losses - max(p - rise(q, s), boiling)) / inertance
                else:
                    dq = (p0 - losses + rise(q, s) - main_loss(q) - p) / both
                    dq = min(dq, (p0 - losses - boiling) / inertance)
            elif leak_by:
                by = leak_by * smooth_power(p - (0.0 if air else rise(0.0, s)) - p0, 0.5)
                flow_in = -by
            if on:
                power_now += power(q if valve else 0.0)
            sigma = smooth_power((p - elevation) * throttle, 0.5)
            house = c * sigma
            leaking = leak * smooth_power(p, leak_exponent) if leak else 0.0
            net = flow_in - house - leaking
            dgas = 0.0
            if not wet:
                dp = net / pipe
                if thermal:
                    dgas = -(gas - wall) / tau
            elif thermal:
                absolute = p + atmosphere
                volume = charge * gas / absolute
                heat = volume / 1.4 * (gas - wall) / (tau * gas)
                dp = (net - heat) / (pipe + volume / (1.4 * absolute))
                dgas = 0.4 / 1.4 * gas / absolute * dp - (gas - wall) / (1.4 * tau)
            else:
                absolute = p + atmosphere
                dp = net / (pipe + hold * absolute**-root / (exponent * absolute))
            dlevel = 0.0
            if moves:
                dlevel = (inflow(level) - flow_in) / plant.cistern_area
            ds = (command - s) / speed_time
            return [ds, dq, dp, dgas, dlevel, sigma, power_now, flow_in, house, leaking]

        return derivative

    # ---- events

    def watched(self):
        """Named margins of the present mode that end a segment, each with its direction."""
        plant, watch = self.plant, []

        def add(name, direction, past, function):
            offset = direction * past

            def margin(t, y):
                return function(t, y.tolist()) - offset

            margin.terminal, margin.direction = True, direction
            watch.append((name, margin))

        if plant.level_moves and self.air:
            add("recovered", 1, METRES, lambda t, y: y[LEVEL] - plant.recovery_level)
        elif plant.level_moves and plant.empty_level > -inf:
            add("empty", -1, METRES, lambda t, y: y[LEVEL] - plant.empty_level)
        if self.valve:
            add("closes", -1, CUBIC_METRES_A_SECOND, lambda t, y: y[FLOW])
        elif not self.air:
            add("opens", 1, PASCALS, self.valve_margin)
        if plant.tank_volume > 0.0:
            add("tank", -1 if self.wet else 1, PASCALS, lambda t, y: self.tank_margin(y))
        if self.on:
            self.watch_running(add)
        elif self.may_start():
            past = CUBIC_METRES_A_SECOND if self.strategy.flow_starts else PASCALS
            add("start", -1, past, lambda t, y: self.start_margin(y))
        targets = [draw[2] for draw in self.draws if draw[2] is not None]
        if targets:
            least = min(targets)
            add("drawn", 1, ROOT_SECONDS, lambda t, y: y[SIGMA] - least)
        return watch

    def watch_running(self, add):
        plant, strategy = self.plant, self.strategy
        if self.valve:
            direction = 1 if self.flow_low else -1
            add(
                "flow", direction, CUBIC_METRES_A_SECOND,
                lambda t, y: y[FLOW] - strategy.stop_flow,
            )
        if strategy.stop_pressure is not None:
            add("stop", 1, PASCALS, lambda t, y: y[PRESSURE] - strategy.stop_pressure)
        if plant.low_suction is not None:
            direction = 1 if self.suction_low else -1
            add("suction", direction, PASCALS, lambda t, y: self.suction(t, y) - plant.low_suction)
        if plant.dry_run_time is not None:
            direction = 1 if self.header_low else -1
            add("header", direction, PASCALS, lambda t, y: y[PRESSURE] - strategy.dry_pressure)

    def may_start(self):
        return not self.locked and self.time >= self.rest_until and self.time >= self.retry_until

    def deadlines(self):
        """Times of the timers that run."""
        plant = self.plant
        if not self.on:
            pending = [t for t in (self.rest_until, self.retry_until) if t > self.time]
            return [] if self.locked else pending
        pending = []
        if self.low_suction_since is not None:
            pending.append(self.low_suction_since + plant.suction_delay)
        if self.dry_since is not None:
            pending.append(self.dry_since + plant.dry_run_time)
        if self.low_flow_since is not None:
            pending.append(self.low_flow_since + self.strategy.run_on)
        return pending

    # ---- rules at an instant, in their order

    def act(self, fired):
        """All that happens at this instant; fired names the margin that ended the segment."""
        if fired is None:
            self.take_edges(lambda rank: rank < 2)
        self.close_draws(fired)
        if fired is None:
            self.take_edges(lambda rank: rank == 3)
        self.guard_timers()
        self.strategy_timers()
        self.settle(fired)

    def take_edges(self, wanted):
        while self.edges and self.edges[0][0] <= self.time and wanted(self.edges[0][1]):
            time, _, _, (what, value) = self.edges.pop(0)
            if what == "supply":
                self.line = (time, value[1], value[2])
            elif what == "profile":
                self.profile = value
            else:
                self.open_draw(value, time)

    def open_draw(self, index, time):
        _, flow, duration, volume = self.plant.scenario.draws[index]
        coefficient = flow / self.plant.reference_root
        if duration is not None:
            self.draws.append([coefficient, time + duration, None])
        else:
            self.draws.append([coefficient, inf, volume / coefficient])

    def close_draws(self, fired):
        if fired == "drawn":
            least = min(draw[2] for draw in self.draws if draw[2] is not None)
            limit = max(least, 0.0) + 1e-9
            self.draws = [draw for draw in self.draws if draw[2] is None or draw[2] > limit]
        self.draws = [draw for draw in self.draws if draw[1] > self.time]

    def guard_timers(self):
        plant, since = self.plant, self.low_suction_since
        if self.on and since is not None and self.time >= since + plant.suction_delay:
            self.stop()
            self.low_suction_trips += 1
            self.retry_until = self.time + plant.suction_retry
        since = self.dry_since
        if self.on and since is not None and self.time >= since + plant.dry_run_time:
            self.stop()
            self.locked = True

    def strategy_timers(self):
        since = self.low_flow_since
        if self.on and since is not None and self.time >= since + self.strategy.run_on:
            self.stop()

    def settle(self, fired):
        """What the state asks for, until nothing changes."""
        changed = True
        while changed:
            self.update_flags(fired)
            changed = self.settle_cistern(fired)
            changed |= self.settle_valve(fired)
            changed |= self.settle_tank(fired)
            self.update_flags(fired)
            changed |= self.settle_controller(fired)
            fired = None

    def settle_cistern(self, fired):
        plant, level = self.plant, self.y[LEVEL]
        if not plant.level_moves:
            return False
        if not self.air and (fired == "empty" or level < plant.empty_level):
            self.air = True
        elif self.air and (fired == "recovered" or level > plant.recovery_level):
            self.air = False
        else:
            return False
        return True

    def settle_valve(self, fired):
        y = self.y
        if self.valve and (self.air or fired == "closes" or y[FLOW] < 0.0):
            self.valve = False
        elif not self.valve and not self.air and (
            fired == "opens" or self.valve_margin(self.time, y) > PASCALS
        ):
            self.valve = True
        else:
            return False
        y[FLOW] = 0.0
        return True

    def settle_tank(self, fired):
        margin = self.tank_margin(self.y) if self.plant.tank_volume > 0.0 else 0.0
        if fired == "tank" or (margin < -1e-2 if self.wet else margin > 1e-2):
            self.wet = not self.wet
            return True
        return False

    def settle_controller(self, fired):
        strategy, pressure = self.strategy, self.y[PRESSURE]
        if self.on and strategy.stop_pressure is not None:
            if fired == "stop" or pressure >= strategy.stop_pressure:
                self.stop()
                return True
        if not self.on and self.may_start():
            if fired == "start" or self.start_margin(self.y) <= 0.0:
                self.start()
                return True
        return False

    def start(self):
        self.on = True
        self.start_times.append(self.time)
        self.flow_low = self.suction_low = self.header_low = False
        self.low_flow_since = self.low_suction_since = self.dry_since = None
        if len(self.start_times) > MOST_STARTS:
            raise Chatter
        self.update_flags(None)

    def stop(self):
        self.on = False
        self.stop_times.append(self.time)
        self.rest_until = self.time + self.plant.least_rest
        self.dry_spent = 0.0 if self.dry_since is None else self.time - self.dry_since
        self.low_flow_since = self.low_suction_since = self.dry_since = None

    def update_flags(self, fired):
        """What a running pump's sensors say, and since when."""
        if not self.on:
            return
        plant, strategy, y = self.plant, self.strategy, self.y

        def low(name, flag, margin, least):
            # at the very crossing the sign is a matter of rounding: the event decides
            if fired == name:
                return margin < 0.0 if abs(margin) > least else not self.before[name]
            return flag if abs(margin) <= least else margin < 0.0

        self.flow_low = low("flow", self.flow_low, y[FLOW] - strategy.stop_flow, 1e-13)
        if plant.low_suction is not None:
            margin = self.suction(self.time, y) - plant.low_suction
            self.suction_low = low("suction", self.suction_low, margin, 1e-5)
        if plant.dry_run_time is not None:
            margin = y[PRESSURE] - strategy.dry_pressure
            self.header_low = low("header", self.header_low, margin, 1e-5)
        by_flow = strategy.stop_pressure is None
        self.low_flow_since = self.since(self.flow_low and by_flow, self.low_flow_since)
        self.low_suction_since = self.since(self.suction_low, self.low_suction_since)
        dry = self.flow_low and self.header_low
        # time run dry adds up over runs, until there is flow or pressure
        if not dry:
            self.dry_since, self.dry_spent = None, 0.0
        elif self.dry_since is None:
            self.dry_since = self.time - self.dry_spent

    def since(self, condition, before):
        if not condition:
            return None
        return self.time if before is None else before

    # ---- the walk through the day

    def run(self):
        """Integrates from the start of the warm-up to the end, 24:00 as a rule."""
        self.counting = False
        self.at_midnight()
        instants = 0
        fired = None
        while True:
            self.before = {
                "flow": self.flow_low, "suction": self.suction_low, "header": self.header_low,
            }
            self.act(fired)
            if self.time >= self.end:
                break
            instants += 1
            if instants > MOST_INSTANTS:
                raise Chatter
            fired = self.advance(self.next_time())
            self.at_midnight()
        self.stored_gain = self.stored() - self.stored_before
        return self

    def at_midnight(self):
        """Totals count from 00:00; a run that goes on is none of this day's starts."""
        if self.time >= 0.0 and not self.counting:
            self.counting = True
            self.run_time, self.totals = 0.0, [0.0] * 4
            self.stored_before = self.stored()
            self.start_times, self.stop_times = [], []

    def next_time(self):
        """The next instant that is known beforehand."""
        times = self.deadlines()
        if self.edges:
            times.append(self.edges[0][0])
        times.extend(draw[1] for draw in self.draws)
        return max(min(times + [0.0 if self.time < 0.0 else self.end]), self.time)

    def advance(self, end):
        """Integrates to a time or the first event before it; returns the event's name."""
        if end <= self.time:
            return None
        watch = self.watched()
        if self.method == "LSODA":
            watch.append(("many steps", many_steps(MOST_STEPS)))
        solution = self.solve(end, [margin for _, margin in watch])
        self.segments += 1
        fired = None
        if solution.status == 1:
            fired = next(
                name for (name, _), times in zip(watch, solution.t_events) if len(times)
            )
            now = float(solution.t[-1])
        else:
            now = end
        self.y = [float(row[-1]) for row in solution.y]
        self.account(now)
        self.method = "Radau" if fired == "many steps" else "LSODA"
        return fired

    def solve(self, end, margins):
        """Integrates with the present method; with Radau where that one fails."""
        function = self.derivative_function()
        failure = None
        for method in (self.method, "Radau"):
            try:
                solution = self.integrate(function, method, end, margins)
            except ValueError as error:
                # LSODA's interpolant may miss the step's own start, and an event right there
                failure = error
                continue
            if solution.status >= 0:
                return solution
            failure = solution.message
        raise RuntimeError(f"at {self.time} s: {failure}")

    def integrate(self, function, method, end, margins):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return solve_ivp(
                function, (self.time, end), array(self.y), method=method, events=margins,
                rtol=self.rtol, atol=ATOL, max_step=LONGEST_STEP,
            )

    def account(self, now):
        """Moves the segment's integrals to the totals and the draws."""
        if self.on:
            self.run_time += now - self.time
        for draw in self.draws:
            if draw[2] is not None:
                draw[2] -= self.y[SIGMA]
        for index in range(4):
            self.totals[index] += self.y[ENERGY + index]
        self.y[SIGMA:] = [0.0] * 5
        if not self.valve:
            self.y[FLOW] = 0.0
        self.time = now
