/* A branch whose pump stands down a well: two pipes, the rising main behind it. */
#include "model/circuit_terms.h"

#include <math.h>

/* All that the service pipe and the open valve take of the supply's pressure at a steady flow. */
static double branch_losses(const struct pd_branch *branch, double flow, double *by_flow)
{
    double slope;
    double service = pd_loss_table_at(&branch->service, flow, &slope);
    double valve = branch->valve_coefficient * fabs(flow);

    *by_flow = slope + 2.0 * valve;
    return service + branch->valve_opening + valve * flow;
}

/* Two pipes with the pump between them speed up as one; each takes its share of what drives them:
 * p_s = w (p_0 - losses before) + (1 - w) (p + losses behind - rise), w the rising main's share. */
struct inlet circuit_inlet_long(const struct pd_branch *branch, double supply, double header,
                                double flow, double rise, double rise_by_flow)
{
    double share = branch->rising_share, before_slope, rising_slope;
    double before = branch_losses(branch, flow, &before_slope);
    double rising = pd_loss_table_at(&branch->rising, flow, &rising_slope);
    struct inlet inlet = {
        share * (supply - before) + (1.0 - share) * (header + rising - rise),
        -share * before_slope + (1.0 - share) * (rising_slope - rise_by_flow),
        1.0 - share,
    };

    return inlet.pressure < branch->boiling ? (struct inlet){branch->boiling, 0.0, 0.0} : inlet;
}

/* A share of the inlet's pressure follows the supply, but that boiling water holds its own. */
void circuit_open_long(const struct pd_branch *branch, const struct inlet *inlet, double flow,
                       const struct terms *terms, struct branch_terms *out)
{
    double slope;
    double before = branch_losses(branch, flow, &slope);
    double per_inertance = 1.0 / branch->inertance;
    double left = inlet->by_header > 0.0 ? 1.0 - branch->rising_share : 1.0;

    out->rate = (terms->supply - before - inlet->pressure) * per_inertance;
    out->rate_by_flow = (left * terms->supply_by_flow - slope - inlet->by_flow) * per_inertance;
    out->rate_by_pressure = -inlet->by_header * per_inertance;
    out->rate_by_level = left * terms->supply_by_level * per_inertance;
}
