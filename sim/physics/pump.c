/* The pump: pressure rise at any speed, power, suction head. */
#include <pumpday/pump.h>

#include <pumpday/water.h>

#include <math.h>

/* A stopped radial pump that the water turns takes this share of the head at best efficiency, at
 * that flow: no torque on the complete characteristics in Suter's form of a pump of specific speed
 * 35 (E. B. Wylie and V. L. Streeter, Fluid Transients).  With its rotor held: 0.556. */
static const double free_wheeling = 0.227;

/* Pa at the largest flow, where no efficiency is known; common practice, no source */
static const double usual_stopped_loss = 30e3;

/* Efficiency at a point, but for a constant; none without power. */
static double efficiency(const struct pd_pump_points *points, size_t i)
{
    return points->power[i] > 0 ? points->flow[i] * points->head[i] / points->power[i] : 0;
}

/* Flow of best efficiency: of the best point, moved to the vertex of the parabola through it and
 * its neighbours.  0: no point has any. */
static double best_flow(const struct pd_pump_points *points)
{
    const double *flow = points->flow;
    size_t best = 0;

    for (size_t i = 1; i < points->count; i++) {
        best = efficiency(points, i) > efficiency(points, best) ? i : best;
    }
    if (best == 0 || best + 1 == points->count) {
        return flow[best];
    }
    double middle = efficiency(points, best);
    double left = (middle - efficiency(points, best - 1)) / (flow[best] - flow[best - 1]);
    double right = (efficiency(points, best + 1) - middle) / (flow[best + 1] - flow[best]);
    double bend = (right - left) / (flow[best + 1] - flow[best - 1]);
    return 0.5 * (flow[best - 1] + flow[best]) - 0.5 * left / bend;
}

static double stopped_coefficient(const struct pd_pump *pump, const struct pd_pump_points *points,
                                  double stopped_loss)
{
    double flow = pump->last_flow, loss = stopped_loss;

    if (isnan(stopped_loss)) {
        double best = best_flow(points);
        loss = best > 0 ? free_wheeling * pd_curve_at(&pump->rise, best, NULL) : usual_stopped_loss;
        flow = best > 0 ? best : flow;
    }
    return loss / (flow * flow);
}

void pd_pump_build(struct pd_pump *pump, const struct pd_pump_points *points, double density,
                   double stopped_loss)
{
    double rise[PD_PUMP_POINTS_MOST];

    for (size_t i = 0; i < points->count; i++) {
        rise[i] = density * PD_GRAVITY * points->head[i];
    }
    pd_curve_build(&pump->rise, points->flow, rise, points->count);
    pd_curve_build(&pump->power, points->flow, points->power, points->count);
    pump->shutoff = pump->rise.y[0];
    pump->last_flow = points->flow[points->count - 1];
    pump->stopped_coefficient = stopped_coefficient(pump, points, stopped_loss);
}

/* Below no flow: a straight line. */
static double rise_backward(const struct pd_pump *pump, double flow, double speed, double *by_flow,
                            double *by_speed)
{
    double slope = pump->rise.first_slope;

    *by_flow = slope * speed;
    *by_speed = 2 * speed * pump->shutoff + slope * flow;
    return speed * (speed * pump->shutoff + slope * flow);
}

/* Beyond the last point: a quadratic, written without a division by the speed. */
static double rise_beyond(const struct pd_pump *pump, double flow, double speed, double *by_flow,
                          double *by_speed)
{
    double end = pump->rise.y[pump->rise.count - 1];
    double slope = pump->rise.last_slope;
    double excess = flow - pump->last_flow * speed;
    double bend = pump->stopped_coefficient * excess;

    *by_flow = slope * speed - 2 * bend;
    *by_speed = 2 * speed * end + slope * excess - pump->last_flow * *by_flow;
    return speed * (speed * end + slope * excess) - bend * excess;
}

double pd_pump_rise(const struct pd_pump *pump, double flow, double speed, double *by_flow,
                    double *by_speed)
{
    if (flow < 0) {
        return rise_backward(pump, flow, speed, by_flow, by_speed);
    }
    if (flow >= pump->last_flow * speed) {
        return rise_beyond(pump, flow, speed, by_flow, by_speed);
    }
    double slope;
    double rise = pd_curve_at(&pump->rise, flow / speed, &slope);

    *by_flow = speed * slope;
    *by_speed = 2 * speed * rise - flow * slope;
    return speed * speed * rise;
}

double pd_pump_power(const struct pd_pump *pump, double flow, double *slope)
{
    double none;
    double *to = slope != NULL ? slope : &none;

    if (flow <= 0 || flow >= pump->last_flow) {
        *to = 0;
        return flow <= 0 ? pump->power.y[0] : pump->power.y[pump->power.count - 1];
    }
    return pd_curve_at(&pump->power, flow, to);
}

double pd_hydraulic_power(double flow, double rise)
{
    return flow * rise;
}

double pd_npsh_available(double suction, double atmosphere, double vapour_pressure, double density)
{
    return (suction + atmosphere - vapour_pressure) / (density * PD_GRAVITY);
}
