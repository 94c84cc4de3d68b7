/* Hides the linear system of an implicit step.  Its Jacobian comes from the same evaluation as the
 * rates, so that it cannot drift from the equations. */
#include "model/circuit_terms.h"

// the elimination below is written out for one flow and one zone
_Static_assert(PD_BRANCHES_MOST == 1 && PD_ZONES_MOST == 1, "more of them are to be eliminated");

/* Eliminates the coupled part, in the order flow, pressure, temperature, level.  The diagonal
 * leads: each row is the unit matrix less gamma times a damped rate, so no pivot is looked for. */
static void eliminate(double a[4][4], double b[4])
{
    for (int k = 0; k < 4; k++) {
        for (int i = k + 1; i < 4; i++) {
            double ratio = a[i][k] / a[k][k];
            for (int j = k + 1; j < 4; j++) {
                a[i][j] -= ratio * a[k][j];
            }
            b[i] -= ratio * b[k];
        }
    }
    for (int i = 3; i >= 0; i--) {
        for (int j = i + 1; j < 4; j++) {
            b[i] -= a[i][j] * b[j];
        }
        b[i] /= a[i][i];
    }
}

/* Flow, pressure, temperature and level together, where the last two move. */
static void solve_wide(const struct circuit *circuit, const struct mode *mode,
                       const double state[STATE_COUNT], double gamma, const struct terms *terms,
                       double per_compliance, double b[STATE_COUNT])
{
    const struct pd_plant *plant = circuit->plant;
    const struct pd_tank *tank = &circuit->tank;
    const struct branch_terms *branch = &terms->branch[0];
    double open = mode->branch[0].valve_open ? 1.0 : 0.0;
    double follow = 0.0, settle = 0.0;

    // the gas temperature follows the pressure's rate and settles to the wall's
    if (tank->gas == PD_GAS_THERMAL && mode->tank_wet) {
        double absolute = state[AT_PRESSURE] + plant->atmosphere;
        double grip = (PD_GAMMA - 1.0) / PD_GAMMA / absolute;
        follow = grip * state[AT_TEMPERATURE];
        settle = grip * terms->pressure_rate - 1.0 / (PD_GAMMA * tank->time_constant);
        // the factor T/p changes with p too
        settle += follow * terms->pressure_rate_by_temperature;
    } else if (tank->gas == PD_GAS_THERMAL) {
        settle = -1.0 / tank->time_constant;
    }
    double p_by_flow = open * per_compliance;
    double p_by_level = -branch->back_by_level * per_compliance;
    double t_by_p = follow * terms->pressure_rate_by_pressure;
    if (follow > 0.0) {
        t_by_p -= follow * terms->pressure_rate / (state[AT_PRESSURE] + plant->atmosphere);
    }
    double per_area = plant->level_moves ? 1.0 / plant->cistern_area : 0.0;
    double a[4][4] = {
        {1.0 - gamma * branch->rate_by_flow, -gamma * branch->rate_by_pressure, 0.0,
         -gamma * branch->rate_by_level},
        {-gamma * p_by_flow, 1.0 - gamma * terms->pressure_rate_by_pressure,
         -gamma * terms->pressure_rate_by_temperature, -gamma * p_by_level},
        {-gamma * follow * p_by_flow, -gamma * t_by_p, 1.0 - gamma * settle,
         -gamma * follow * p_by_level},
        {gamma * open * per_area, -gamma * branch->back_by_pressure * per_area, 0.0,
         1.0 - gamma * (terms->refill_by_level + branch->back_by_level) * per_area},
    };
    double x[4] = {b[AT_FLOW], b[AT_PRESSURE], b[AT_TEMPERATURE], b[AT_LEVEL]};
    eliminate(a, x);
    b[AT_FLOW] = x[0];
    b[AT_PRESSURE] = x[1];
    b[AT_TEMPERATURE] = x[2];
    b[AT_LEVEL] = x[3];
}

/* Solves (I - gamma J) x = b in place. */
static void solve(const struct circuit *circuit, const struct mode *mode,
                  const double state[STATE_COUNT], double gamma, const struct terms *terms,
                  double b[STATE_COUNT])
{
    const struct pd_plant *plant = circuit->plant;
    const struct branch_terms *branch = &terms->branch[0];
    double per_compliance = 1.0 / (plant->pipe_compliance + terms->compliance);

    if (plant->level_moves || circuit->tank.gas == PD_GAS_THERMAL) {
        solve_wide(circuit, mode, state, gamma, terms, per_compliance, b);
    } else {
        double open = mode->branch[0].valve_open ? per_compliance : 0.0;
        double flow = b[AT_FLOW], pressure = b[AT_PRESSURE];
        double a11 = 1.0 - gamma * branch->rate_by_flow;
        double a12 = -gamma * branch->rate_by_pressure;
        double a21 = -gamma * open;
        double a22 = 1.0 - gamma * terms->pressure_rate_by_pressure;
        double per_determinant = 1.0 / (a11 * a22 - a12 * a21);
        b[AT_FLOW] = (flow * a22 - pressure * a12) * per_determinant;
        b[AT_PRESSURE] = (a11 * pressure - a21 * flow) * per_determinant;
    }
    // the integrals follow from the rest
    double flow = mode->branch[0].valve_open ? b[AT_FLOW] : 0.0;
    double back = branch->back_by_pressure * b[AT_PRESSURE] + branch->back_by_level * b[AT_LEVEL];
    double root = terms->zone[0].root_by_pressure * b[AT_PRESSURE];
    b[AT_SIGMA] += gamma * root;
    b[AT_ENERGY] += gamma * branch->power_by_flow * b[AT_FLOW];
    b[AT_SUPPLIED] += gamma * (flow - back);
    b[AT_DELIVERED] += gamma * mode->zone[0].demand * root;
    b[AT_LEAKED] += gamma * terms->leak_by_pressure * b[AT_PRESSURE];
}

bool circuit_correct(const struct circuit *circuit, const struct mode *mode, double time,
                     const double state[STATE_COUNT], double gamma, const double known[STATE_COUNT],
                     double correction[STATE_COUNT])
{
    struct terms terms;

    if (!circuit_evaluate(circuit, mode, time, state, &terms, correction)) {
        return false;
    }
    for (int i = 0; i < STATE_COUNT; i++) {
        correction[i] = gamma * correction[i] - known[i];
    }
    solve(circuit, mode, state, gamma, &terms, correction);
    return true;
}
