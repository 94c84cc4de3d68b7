"""Pipe loss, the smoothed power law and the pump, on plain floats for speed.  SI, gauge."""

from bisect import bisect_right
from math import log, pi

from numpy import polyfit
from scipy.interpolate import PchipInterpolator

SMOOTH = 500.0  # Pa, below which the power law is a cubic


def friction_factor(reynolds, roughness):
    """Darcy friction factor after Churchill 1977; roughness relative to the bore."""
    # below this the blend is laminar flow to the last digit, and its powers would overflow
    if reynolds < 1.0:
        return 64.0 / reynolds
    a = (2.457 * log(1.0 / ((7.0 / reynolds) ** 0.9 + 0.27 * roughness))) ** 16
    b = (37530.0 / reynolds) ** 16
    return 8.0 * ((8.0 / reynolds) ** 12 + (a + b) ** -1.5) ** (1.0 / 12.0)


def pipe_loss_function(length, bore, roughness, loss_k, density, viscosity):
    """The function flow -> pressure loss, odd in the flow."""
    area = pi * bore * bore / 4
    by_flow = density * bore / (viscosity * area)
    relative = roughness / bore
    slenderness = length / bore

    def loss(flow):
        if flow == 0.0:
            return 0.0
        speed = flow / area
        factor = friction_factor(by_flow * abs(flow), relative)
        return (factor * slenderness + loss_k) * density * speed * abs(speed) / 2

    return loss


def smooth_power(x, e):
    """x^e, below SMOOTH a cubic that is flat at 0 and meets value and slope."""
    if x >= SMOOTH:
        return x**e
    if x <= 0.0:
        return 0.0
    u = x / SMOOTH
    return SMOOTH**e * u * u * ((3.0 - e) + (e - 2.0) * u)


class Curve:
    """SciPy's monotone cubic through points, evaluated without arrays."""

    def __init__(self, x, y):
        spline = PchipInterpolator(x, y)
        self.x = [float(v) for v in x]
        self.inner = self.x[1:-1]
        self.pieces = [tuple(float(v) for v in column) for column in spline.c.T]
        self.first, self.last = float(y[0]), float(y[-1])
        slope = spline.derivative()
        self.first_slope, self.last_slope = float(slope(x[0])), float(slope(x[-1]))

    def __call__(self, x):
        i = bisect_right(self.inner, x)
        u = x - self.x[i]
        a, b, c, d = self.pieces[i]
        return ((a * u + b) * u + c) * u + d

    def held(self, x):
        """The curve, held at its end values outside the points."""
        if x <= self.x[0]:
            return self.first
        return self.last if x >= self.x[-1] else self(x)


class Pump:
    """Pressure rise by the affinity laws, and electrical input."""

    def __init__(self, flows, heads, powers, specific_weight, stopped_loss):
        self.full = Curve(flows, [specific_weight * head for head in heads])
        self.power = Curve(flows, powers).held
        self.last_flow = self.full.x[-1]
        self.stopped = self.stopped_coefficient(flows, heads, powers, stopped_loss)
        self.shutoff = self.full.first

    def stopped_coefficient(self, flows, heads, powers, given):
        """Loss of the resting pump over its flow squared: as given at the last flow, or 0.227 of
        the head at best efficiency at that flow."""
        if given is not None:
            return given / self.last_flow**2
        yields = [q * h / p if p > 0.0 else 0.0 for q, h, p in zip(flows, heads, powers)]
        best = yields.index(max(yields))
        if best == 0:
            return 30e3 / self.last_flow**2
        flow = self.last_flow
        if best + 1 < len(yields):
            near = slice(best - 1, best + 2)
            a, b, _ = polyfit([q / flow for q in flows[near]], yields[near], 2)
            flow *= -b / (2 * a)
        return 0.227 * self.full(flow) / flow**2

    def rise(self, flow, speed):
        full = self.full
        if speed < 0.0:
            speed = 0.0
        if flow < 0.0:
            return speed * (speed * full.first + full.first_slope * flow)
        beyond = flow - self.last_flow * speed
        if beyond >= 0.0:
            return speed * (speed * full.last + full.last_slope * beyond) - (
                self.stopped * beyond * beyond
            )
        return speed * speed * full(flow / speed)
