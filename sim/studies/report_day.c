#include "studies/report_day.h"

struct pd_report_day report_day_of(const struct pd_scenario *scenario,
                                   const struct pd_limits *limits,
                                   const struct pd_comparison_row *row)
{
    struct pd_report_day day = pd_report_day_for(&row->result, pd_day_cost(scenario, &row->result),
                                                 limits->tap_pressure, row->good, row->verdict);

    day.currency = scenario->currency;
    day.findings = &row->findings;
    return day;
}
