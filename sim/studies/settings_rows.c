/* Settings as values of items, for files and for `--set`. */
#include <pumpday/settings.h>

#include <math.h>
#include <string.h>

/* Which items hold a strategy's settings. */
struct setting_items {
    const char *strategy;
    enum pd_item start, stop_flow, stop_pressure, run_on, precharge;
};

static const struct setting_items items[] = {
    {"pressure-start", PD_PRESSURE_START_START, PD_PRESSURE_START_STOP_FLOW,
     PD_PRESSURE_START_STOP_PRESSURE, PD_PRESSURE_START_RUN_ON, PD_PRESSURE_START_PRECHARGE},
    {"flow-start", PD_FLOW_START_START_FLOW, PD_FLOW_START_STOP_FLOW, PD_ITEM_COUNT,
     PD_FLOW_START_RUN_ON, PD_FLOW_START_PRECHARGE},
    {"peak-only", PD_PEAK_ONLY_START, PD_PEAK_ONLY_STOP_FLOW, PD_PEAK_ONLY_STOP_PRESSURE,
     PD_PEAK_ONLY_RUN_ON, PD_PEAK_ONLY_PRECHARGE},
};

static const struct setting_items *items_of(const struct pd_strategy_kind *kind)
{
    size_t i = 0;

    while (i < sizeof items / sizeof items[0] - 1 && strcmp(items[i].strategy, kind->name) != 0) {
        i++;
    }
    return &items[i];
}

size_t pd_setting_rows(const struct pd_scenario *scenario, const struct pd_setting *setting,
                       enum pd_unit_system units, struct pd_setting_row rows[PD_SETTING_ROWS])
{
    const struct pd_strategy *strategy = &setting->strategy;
    const struct setting_items *own = items_of(strategy->kind);
    bool is_switch = !isnan(strategy->stop_pressure);
    const char *pressure = pd_unit_shown(PD_KIND_PRESSURE, units);
    const char *flow = pd_unit_shown(PD_KIND_FLOW, units);
    bool by_flow = isnan(strategy->start_pressure);
    size_t count = 0;

    rows[count++] = (struct pd_setting_row){
        own->start, by_flow ? strategy->start_flow : strategy->start_pressure,
        by_flow ? flow : pressure};
    if (is_switch) {
        rows[count++] =
            (struct pd_setting_row){own->stop_pressure, strategy->stop_pressure, pressure};
    } else {
        rows[count++] = (struct pd_setting_row){own->stop_flow, strategy->stop_flow, flow};
        rows[count++] = (struct pd_setting_row){own->run_on, strategy->run_on, "s"};
    }
    rows[count++] = (struct pd_setting_row){own->precharge, strategy->precharge, pressure};
    // it would hold for all strategies and override the one above
    if (scenario->given[PD_TANK_PRECHARGE]) {
        rows[count++] = (struct pd_setting_row){PD_TANK_PRECHARGE, NAN, ""};
    }
    if (!isnan(setting->reducing_valve)) {
        rows[count++] =
            (struct pd_setting_row){PD_SUPPLY_REDUCING_VALVE, setting->reducing_valve, pressure};
    }
    // a size is told in the unit of its list, where no digit is lost
    rows[count++] = (struct pd_setting_row){PD_TANK_VOLUME, setting->tank,
                                            pd_unit_shown(PD_KIND_VOLUME, units)};
    return count;
}
