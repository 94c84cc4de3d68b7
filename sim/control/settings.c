/* What the settings and the margins of strategies have in common. */
#include "control/settings.h"

#include <math.h>

/* common practice, no source: the precharge stands 2 psi under the start pressure */
static const double precharge_margin = 2.0 * PASCAL_PER_PSI;

double setting_or(double given, double worked_out)
{
    return isnan(given) ? worked_out : given;
}

double precharge_under(double pressure)
{
    return fmax(pressure - precharge_margin, 0.0);
}

double pressure_start_margin(const struct pd_strategy *strategy, const struct pd_readings *readings)
{
    return (readings->header_pressure - strategy->start_pressure) / PRESSURE_SCALE;
}

double flow_or_pressure_stop_margin(const struct pd_strategy *strategy,
                                    const struct pd_readings *readings)
{
    if (!isnan(strategy->stop_pressure)) {
        return (strategy->stop_pressure - readings->header_pressure) / PRESSURE_SCALE;
    }
    return (readings->pump_flow - strategy->stop_flow) / FLOW_SCALE;
}
