/* Settings as values of items, for files and for `--set`. */
#include <pumpday/settings.h>

#include <math.h>

struct rows {
    struct pd_setting_row *row;
    size_t count;
};

static void add(struct rows *rows, enum pd_item item, double value, const char *unit)
{
    if (item != PD_ITEM_COUNT) {
        rows->row[rows->count++] = (struct pd_setting_row){item, value, unit};
    }
}

static void add_own(struct rows *rows, const struct pd_strategy *strategy,
                    enum pd_unit_system units)
{
    const struct pd_setting_items *own = strategy->kind->items;
    const char *pressure = pd_unit_shown(PD_KIND_PRESSURE, units);
    const char *flow = pd_unit_shown(PD_KIND_FLOW, units);
    bool by_flow = isnan(strategy->start_pressure);

    if (own == NULL) {
        return;
    }
    add(rows, own->start, by_flow ? strategy->start_flow : strategy->start_pressure,
        by_flow ? flow : pressure);
    if (isnan(strategy->stop_pressure)) {
        add(rows, own->stop_flow, strategy->stop_flow, flow);
        add(rows, own->run_on, strategy->run_on, "s");
    } else {
        add(rows, own->stop_pressure, strategy->stop_pressure, pressure);
    }
    add(rows, own->precharge, strategy->precharge, pressure);
}

size_t pd_setting_rows(const struct pd_scenario *scenario, const struct pd_setting *setting,
                       enum pd_unit_system units, struct pd_setting_row rows[PD_SETTING_ROWS])
{
    struct rows list = {rows, 0};

    add_own(&list, &setting->strategy, units);
    // it would hold for all strategies and override the one above
    if (scenario->given[PD_TANK_PRECHARGE]) {
        add(&list, PD_TANK_PRECHARGE, NAN, "");
    }
    if (!isnan(setting->reducing_valve)) {
        add(&list, PD_SUPPLY_REDUCING_VALVE, setting->reducing_valve,
            pd_unit_shown(PD_KIND_PRESSURE, units));
    }
    // a size is told in the unit of its list, where no digit is lost
    add(&list, PD_TANK_VOLUME, setting->tank, pd_unit_shown(PD_KIND_VOLUME, units));
    return list.count;
}
