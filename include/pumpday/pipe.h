/* Pipes and openings: friction, local losses, inertance, elasticity, leaks. */
#ifndef PUMPDAY_PIPE_H
#define PUMPDAY_PIPE_H

#include <stdbool.h>

/* Darcy friction factor.  reynolds > 0; roughness relative to the diameter, 0 to 0.05.
 * Source: S. W. Churchill, Chemical Engineering, 7 Nov 1977, 91-92 (all regimes in one formula). */
double pd_friction_factor(double reynolds, double relative_roughness);

/* Everything that sets the loss of a pipe. */
struct pd_pipe {
    double length;    /* m, >= 0 */
    double diameter;  /* m, bore, > 0 */
    double roughness; /* m, >= 0 */
    double loss_k;    /* sum of loss coefficients on the velocity head of the bore, >= 0 */
};

/* Pressure loss [Pa] at a flow [m3/s]; odd in the flow; density kg/m3, viscosity Pa s.
 * Darcy-Weisbach: (f length / diameter + loss_k) * density V^2 / 2. */
double pd_pipe_loss(const struct pd_pipe *pipe, double density, double viscosity, double flow);

/* Inertance [Pa s2/m3] = density * length / area. */
double pd_pipe_inertance(const struct pd_pipe *pipe, double density);

/* The loss of one pipe with one water, held as a table of cubics so that it needs no powers.
 * The cells are even up to `range`, but for one stretch of them that holds the passage from laminar
 * to turbulent flow and the bend at small flows: it has as many cells again of its own.
 * Equal to pd_pipe_loss within 1e-7 of its value up to `range` if that lies below a Reynolds number
 * of 1e6 (measured: 3e-9 where it lies below 3e5, slope 1.4e-6), and computed by it beyond. */
enum { PD_LOSS_CELLS = 1024 };
struct pd_loss_table {
    struct pd_pipe pipe;
    double density, viscosity;
    double range;                    /* m3/s, flow at the end of the table */
    double cells_per_flow;           /* PD_LOSS_CELLS / range */
    double loss[PD_LOSS_CELLS + 1];  /* Pa at the nodes */
    double slope[PD_LOSS_CELLS + 1]; /* Pa per cell at the nodes */
    double fine_from, fine_to;       /* cells between which the fine cells stand */
    double fine_per_cell;            /* fine cells in one cell */
    double fine_loss[PD_LOSS_CELLS + 1];
    double fine_slope[PD_LOSS_CELLS + 1]; /* Pa per fine cell */
};

/* Fills the table for flows up to `range` (m3/s, > 0). */
void pd_loss_table_build(struct pd_loss_table *table, const struct pd_pipe *pipe, double density,
                         double viscosity, double range);

/* Loss [Pa] at a flow [m3/s], odd in the flow; *slope gets its derivative [Pa s/m3]. */
double pd_loss_table_at(const struct pd_loss_table *table, double flow, double *slope);

/* Power law through zero, flow = coefficient * pressure^exponent for pressure >=
 * PD_SMOOTH_PRESSURE, below it a cubic in pressure that meets value and slope there and is flat at
 * zero; 0 for negative pressure.  Returns pressure^exponent so smoothed; *slope gets its
 * derivative. exponent 0.3 to 2.5.  Used for taps (0.5), leaks and the check valve's leak-by. */
#define PD_SMOOTH_PRESSURE 500.0 /* Pa */
double pd_smooth_power(double pressure, double exponent, double *slope);

/* Compliance [m3/Pa] of a length of elastic pipe full of water: its volume times
 * (1/K + restraint * diameter / (E * wall)).  modulus E [Pa] of the wall, bulk_modulus K [Pa].
 * A wall or modulus of 0 or infinity means a rigid pipe.
 * Source: D. J. Korteweg 1878, as in Wylie & Streeter, Fluid Transients in Systems, 1993 (from
 * memory); restraint 1 for a pipe with expansion joints throughout. */
double pd_pipe_compliance(double length, double diameter, double wall, double modulus,
                          double bulk_modulus);

#endif
