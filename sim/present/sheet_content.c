/* What a commissioning sheet says. */
#include "present/sheet_parts.h"

#include "output/amount.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

static void add_setting(struct filler *filler, const char *label, enum pd_kind kind, double si)
{
    struct sheet_content *content = filler->content;

    if (isfinite(si) && content->setting_count < SHEET_SETTINGS) {
        struct sheet_setting *setting = &content->setting[content->setting_count++];
        (void)snprintf(setting->label, sizeof setting->label, "%s", label);
        sheet_amount(setting->value, filler, kind, si);
    }
}

static void add_precharge(struct filler *filler)
{
    char warmth[SHEET_VALUE_MOST], label[SHEET_LABEL_MOST];
    struct sheet_content *content = filler->content;

    sheet_amount(warmth, filler, PD_KIND_TEMPERATURE, filler->sheet->temperature);
    (void)snprintf(label, sizeof label, "precharge, drained, at %.20s", warmth);
    add_setting(filler, label, PD_KIND_PRESSURE, filler->sheet->strategy.precharge);
    if (sheet_precharge_is_wrong(filler)) {
        struct sheet_setting *setting = &content->setting[content->setting_count - 1];
        (void)snprintf(setting->value, sizeof setting->value, "see the box");
    }
}

static void fill_settings(struct filler *filler)
{
    const struct pd_sheet *sheet = filler->sheet;
    const struct pd_strategy *strategy = &sheet->strategy;
    const double *value = filler->scenario->value;
    bool is_switch = sheet_is_switch(filler);

    add_setting(filler, "start pressure", PD_KIND_PRESSURE, strategy->start_pressure);
    add_setting(filler, "start flow", PD_KIND_FLOW, strategy->start_flow);
    add_setting(filler, "stop pressure", PD_KIND_PRESSURE, strategy->stop_pressure);
    add_setting(filler, "stop flow", PD_KIND_FLOW, is_switch ? (double)NAN : strategy->stop_flow);
    add_setting(filler, "run-on", PD_KIND_TIME, is_switch ? (double)NAN : strategy->run_on);
    add_precharge(filler);
    add_setting(filler, "tank", PD_KIND_VOLUME, sheet->tank);
    add_setting(filler, "tank's rated pressure", PD_KIND_PRESSURE, sheet->rated);
    add_setting(filler, "pump at no flow, highest supply", PD_KIND_PRESSURE, sheet->highest);
    add_setting(filler, "trip at suction under", PD_KIND_PRESSURE, value[PD_GUARD_LOW_SUCTION]);
    add_setting(filler, "lock out when dry for", PD_KIND_TIME, value[PD_GUARD_DRY_RUN_TIME]);
}

/* Why a reading is not there. */
static const char *no_start(const struct pd_bench *bench)
{
    return bench->runs_already ? "runs already" : "no start";
}

static const char *no_stop(const struct pd_bench *bench)
{
    return bench->runs_on || bench->runs_already ? "no stop" : "not running";
}

static const char *no_cycle(const struct pd_bench *bench)
{
    return bench->runs_on ? "runs on" : "no restart";
}

static const char *no_steady(const struct pd_bench *bench)
{
    (void)bench;
    return "up and down";
}

static const char *no_trickle(const struct pd_bench *bench)
{
    (void)bench;
    return "no restart";
}

/* Which control a reading is of.  One that needs a steady gauge is left out where a two-pressure
 * switch never gives one. */
enum of { ALL, STEADY, BY_FLOW, BY_SWITCH };

struct reading {
    enum of of;
    const char *label;
    enum pd_kind kind;
    size_t offset; /* in struct pd_bench */
    const char *(*absent)(const struct pd_bench *bench);
};

#define READING(of, label, kind, member, absent)                                                   \
    {                                                                                              \
        of, label, PD_KIND_##kind, offsetof(struct pd_bench, member), absent                       \
    }

static const struct reading readings[] = {
    READING(ALL, "static gauge: pump off, taps shut", PRESSURE, supply, no_start),
    READING(ALL, "gauge at rest: 3 min after the pump stopped", PRESSURE, rest, no_start),
    READING(ALL, "one tap opened: time to the start", TIME, seconds, no_start),
    READING(ALL, "bucket: drawn from its opening to the start", VOLUME, drawn, no_start),
    READING(ALL, "gauge as the pump starts", PRESSURE, start, no_start),
    READING(STEADY, "gauge, one tap open", PRESSURE, one_tap, no_steady),
    READING(STEADY, "flow of that tap (bucket and watch)", FLOW, one_tap_flow, no_steady),
    READING(STEADY, "power drawn, one tap open", POWER, one_tap_power, no_steady),
    READING(ALL, "one tap open: time between starts", TIME, one_tap_cycle, no_cycle),
    READING(BY_FLOW, "tap shut: time to the stop (run-on)", TIME, run_on, no_stop),
    READING(BY_FLOW, "shutoff gauge: as the pump stops, taps shut", PRESSURE, shutoff, no_stop),
    READING(BY_SWITCH, "stop gauge: as the pump stops, taps shut", PRESSURE, shutoff, no_stop),
    READING(STEADY, "gauge, three taps open", PRESSURE, three_taps, no_steady),
    READING(ALL, "a trickle open: time between starts", TIME, trickle_cycle, no_trickle),
};

static double value_of(const struct reading *reading, const struct pd_bench *bench)
{
    const char *place = (const char *)bench + reading->offset;

    return *(const double *)(const void *)place;
}

static bool is_of_control(const struct filler *filler, const struct reading *reading)
{
    bool is_switch = sheet_is_switch(filler);

    if (reading->of != STEADY || !is_switch) {
        return reading->of == ALL || reading->of == STEADY ||
               (reading->of == BY_SWITCH) == is_switch;
    }
    for (size_t i = 0; i < filler->sheet->count; i++) {
        if (!isnan(value_of(reading, &filler->sheet->bench[i]))) {
            return true;
        }
    }
    return false;
}

/* A gauge behind a check valve shows nothing of water that lies under it. */
static void fill_cell(char cell[SHEET_VALUE_MOST], const struct filler *filler,
                      const struct reading *reading, const struct pd_bench *bench)
{
    double si = value_of(reading, bench);

    if (isnan(si)) {
        (void)snprintf(cell, SHEET_VALUE_MOST, "%s", reading->absent(bench));
    } else if (reading->kind == PD_KIND_PRESSURE && si < 0) {
        bool is_static = reading->offset == offsetof(struct pd_bench, supply);
        (void)snprintf(cell, SHEET_VALUE_MOST, "%s", is_static ? "none (lift)" : "zero");
    } else {
        sheet_amount(cell, filler, reading->kind, si);
    }
}

/* The first that a fitter reads. */
static void fill_precharge(struct filler *filler)
{
    struct sheet_reading *row = &filler->content->reading[filler->content->reading_count++];

    (void)snprintf(row->label, sizeof row->label, "precharge as found, tank drained");
    for (size_t i = 0; i < filler->sheet->count; i++) {
        if (sheet_precharge_is_wrong(filler)) {
            (void)snprintf(row->value[i], sizeof row->value[i], "see the box");
        } else {
            sheet_pressure(row->value[i], filler, filler->sheet->strategy.precharge);
        }
    }
}

static void fill_readings(struct filler *filler)
{
    struct sheet_content *content = filler->content;
    const struct pd_sheet *sheet = filler->sheet;

    content->column_count = sheet->count;
    fill_precharge(filler);
    for (size_t i = 0; i < sizeof readings / sizeof readings[0]; i++) {
        if (!is_of_control(filler, &readings[i])) {
            continue;
        }
        struct sheet_reading *row = &content->reading[content->reading_count++];
        (void)snprintf(row->label, sizeof row->label, "%s", readings[i].label);
        for (size_t j = 0; j < sheet->count; j++) {
            fill_cell(row->value[j], filler, &readings[i], &sheet->bench[j]);
        }
    }
}

static void fill_heads(struct filler *filler)
{
    static const char *const names[] = {"lowest supply", "mean supply", "highest supply"};
    struct sheet_content *content = filler->content;
    char tap[SHEET_VALUE_MOST], trickle[SHEET_VALUE_MOST], pressure[SHEET_VALUE_MOST];
    const char *columns = "";

    for (size_t i = 0; i < content->column_count && i < PD_BENCHES_MOST; i++) {
        (void)snprintf(content->head[i], SHEET_VALUE_MOST, "%s",
                       content->column_count > 1 ? names[i] : "expected");
    }
    sheet_amount(tap, filler, PD_KIND_FLOW, filler->sheet->tap_flow);
    sheet_amount(trickle, filler, PD_KIND_FLOW, filler->sheet->trickle_flow);
    sheet_amount(pressure, filler, PD_KIND_PRESSURE,
                 filler->scenario->value[PD_DEMAND_REFERENCE_PRESSURE]);
    if (content->column_count > 1) {
        columns = " Read the static gauge first: the column that is nearest to it holds.";
    }
    (void)snprintf(content->taps, sizeof content->taps,
                   "From the simulation. A tap gives %s, a trickle %s, at %s.%s Time to the start "
                   "and bucket: the pump has run, all taps are shut, it has stopped; three minutes "
                   "later open one tap, and catch all its water from that moment until the pump "
                   "starts.",
                   tap, trickle, pressure, columns);
}

void sheet_content_fill(struct sheet_content *content, const struct pd_scenario *scenario,
                        const struct pd_sheet *sheet, enum pd_unit_system units)
{
    struct filler filler = {content, scenario, sheet, units};

    memset(content, 0, sizeof *content);
    content->title = scenario->title[0] != '\0' ? scenario->title : "water pressure booster";
    content->strategy = sheet->strategy.kind->name;
    sheet_fill_reasons(&filler);
    fill_settings(&filler);
    sheet_fill_steps(&filler);
    sheet_fill_leak_test(&filler);
    fill_readings(&filler);
    fill_heads(&filler);
}
