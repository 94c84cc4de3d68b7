#include "observe/suction.h"

#include <math.h>

void suction_begin(struct suction *suction)
{
    suction->short_since = NAN;
}

/* Available head less what the pump asks for [m], and the least of it. */
static double npsh_margin(struct pd_day_result *result, const struct pd_plant *plant, double flow,
                          double pressure)
{
    double last = plant->branch[0].npsh_required.x[plant->branch[0].npsh_required.count - 1];
    double on_curve = fmin(flow, last);
    double margin = pd_npsh_available(pressure, plant->atmosphere, plant->water.vapour_pressure,
                                      plant->water.density) -
                    pd_curve_at(&plant->branch[0].npsh_required, on_curve, NULL);

    if (!(margin >= result->lowest_npsh_margin)) {
        result->lowest_npsh_margin = margin;
        result->npsh_flow = on_curve;
    }
    return margin;
}

/* Short of what the pump asks for, or, where that is not known, boiling. */
void suction_note(struct suction *suction, const struct run *run, double time, const double *state,
                  double pressure)
{
    struct pd_day_result *result = suction->result;
    const struct pd_plant *plant = run->plant;
    double *since = &suction->short_since;
    bool is_short = plant->branch[0].has_npsh
                        ? npsh_margin(result, plant, state[AT_FLOW], pressure) < 0.0
                        : pressure <= plant->boiling;

    if (!(pressure >= result->lowest_inlet_pressure)) {
        result->lowest_inlet_pressure = pressure;
    }
    if (!is_short) {
        *since = NAN;
        return;
    }
    *since = isnan(*since) ? time : *since;
    result->longest_short_suction = fmax(result->longest_short_suction, time - *since);
}
