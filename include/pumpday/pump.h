/* The pump: a head curve and a power curve over flow, and the affinity laws. */
#ifndef PUMPDAY_PUMP_H
#define PUMPDAY_PUMP_H

#include <pumpday/scenario.h>

/* A monotone cubic through points.  Between points i and i+1, with u = x - x[i]:
 * y = y[i] + u * (a[i] + u * (b[i] + u * c[i])).
 * Slopes after F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304: the
 * weighted harmonic mean inside, the three-point formula kept monotone at the ends; the same scheme
 * as SciPy's PchipInterpolator. */
struct pd_curve {
    size_t count;
    double x[PD_PUMP_POINTS_MOST], y[PD_PUMP_POINTS_MOST];
    double a[PD_PUMP_POINTS_MOST], b[PD_PUMP_POINTS_MOST], c[PD_PUMP_POINTS_MOST];
    double first_slope, last_slope;
};

/* count >= 2 points with rising x. */
void pd_curve_build(struct pd_curve *curve, const double *x, const double *y, size_t count);

/* Value at x, first_x <= x <= last_x; *slope gets the derivative (may be NULL). */
double pd_curve_at(const struct pd_curve *curve, double x, double *slope);

/* A pump ready to be evaluated; pressures in Pa, flows in m3/s, power in W. */
struct pd_pump {
    struct pd_curve rise;       /* pressure rise at full speed, Pa */
    struct pd_curve power;      /* electrical input, W */
    double stopped_coefficient; /* Pa s2/m6: a stopped pump loses this times flow squared */
    double shutoff;             /* Pa, rise at no flow and full speed */
    double last_flow;           /* m3/s, largest flow of the points */
};

/* Builds a pump from points; stopped_loss [Pa] is the loss at the largest flow when it stands
 * still.  NAN: that of a free-wheeling radial pump, 0.227 H_b (Q / Q_b)^2 from head and flow at
 * best efficiency, or 30 kPa where no point has flow, head and power. */
void pd_pump_build(struct pd_pump *pump, const struct pd_pump_points *points, double density,
                   double stopped_loss);

/* Pressure rise [Pa] at a flow [m3/s] and relative speed (0 to about 1): s^2 f(Q/s).
 * Beyond the last point f goes on as a quadratic of the same slope whose curvature is that of the
 * stopped pump, so the rise tends to -stopped_coefficient Q^2 as the speed tends to 0; below no
 * flow f goes on as a straight line.  *by_flow and *by_speed get the partial derivatives. */
double pd_pump_rise(const struct pd_pump *pump, double flow, double speed, double *by_flow,
                    double *by_speed);

/* Electrical input power [W] of the running motor at a flow; held at its ends.  *slope may be NULL.
 */
double pd_pump_power(const struct pd_pump *pump, double flow, double *slope);

/* Hydraulic power [W] = flow * rise. */
double pd_hydraulic_power(double flow, double rise);

/* Net positive suction head available [m] at a suction pressure [Pa gauge] at the pump inlet.
 * (suction + atmosphere - vapour) / (density g); velocity head left out. */
double pd_npsh_available(double suction, double atmosphere, double vapour_pressure, double density);

#endif
