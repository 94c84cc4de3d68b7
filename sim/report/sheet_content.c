/* What a commissioning sheet says. */
#include "report/sheet_content.h"

#include "report/amount.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* The content while it is filled. */
struct filler {
    struct sheet_content *content;
    const struct pd_scenario *scenario;
    const struct pd_sheet *sheet;
    enum pd_unit_system units;
};

/* Degrees have a sign of their own. */
static void amount(char text[SHEET_VALUE_MOST], const struct filler *filler, enum pd_kind kind,
                   double si)
{
    char plain[PD_AMOUNT_MOST];

    pd_amount_text(plain, kind, filler->units, si);
    (void)snprintf(text, SHEET_VALUE_MOST, "%s", plain);
    char *degrees = strstr(text, "deg");
    if (degrees != NULL) {
        (void)snprintf(degrees, 4, "\xC2\xB0%c", filler->units == PD_UNITS_US ? 'F' : 'C');
    }
}

static void add_setting(struct filler *filler, const char *label, enum pd_kind kind, double si)
{
    struct sheet_content *content = filler->content;

    if (isfinite(si) && content->setting_count < SHEET_SETTINGS) {
        struct sheet_setting *setting = &content->setting[content->setting_count++];
        (void)snprintf(setting->label, sizeof setting->label, "%s", label);
        amount(setting->value, filler, kind, si);
    }
}

static void fill_settings(struct filler *filler)
{
    const struct pd_strategy *strategy = &filler->sheet->strategy;
    const double *value = filler->scenario->value;
    bool is_switch = !isnan(strategy->stop_pressure);
    char warmth[SHEET_VALUE_MOST], label[SHEET_LABEL_MOST];

    amount(warmth, filler, PD_KIND_TEMPERATURE, filler->sheet->temperature);
    (void)snprintf(label, sizeof label, "precharge, drained, at %.20s", warmth);
    add_setting(filler, "start pressure", PD_KIND_PRESSURE, strategy->start_pressure);
    add_setting(filler, "start flow", PD_KIND_FLOW, strategy->start_flow);
    add_setting(filler, "stop pressure", PD_KIND_PRESSURE, strategy->stop_pressure);
    add_setting(filler, "stop flow", PD_KIND_FLOW, is_switch ? (double)NAN : strategy->stop_flow);
    add_setting(filler, "run-on", PD_KIND_TIME, is_switch ? (double)NAN : strategy->run_on);
    add_setting(filler, label, PD_KIND_PRESSURE, strategy->precharge);
    add_setting(filler, "tank", PD_KIND_VOLUME, filler->sheet->tank);
    add_setting(filler, "trip at suction under", PD_KIND_PRESSURE, value[PD_GUARD_LOW_SUCTION]);
    add_setting(filler, "lock out when dry for", PD_KIND_TIME, value[PD_GUARD_DRY_RUN_TIME]);
}

/* The order of work.  Common practice, no source; %s stands for precharge and temperature in the
 * step that has them. */
static const char *const steps[] = {
    "Isolate: power off and locked, supply valve shut. Electrical work and connections to a main "
    "belong to licensed trades; local codes and the supplier decide on boosting from a main.",
    "Back-flow protection is in place as the local code wants it; the suction pipe is no smaller "
    "than the pump's inlet, short, and rises all the way to the pump.",
    "Check valve: its arrow points with the flow, to the house. No sealant where it can reach the "
    "valve.",
    "Open a tap and drain the water side until the gauge reads zero. Only then read the precharge "
    "and set it to %s (gas at %s). Shut the tap.",
    "Open the supply slowly and purge the air from pump and pipes until water runs without "
    "bubbles: "
    "before the power goes on.",
    "Pump still off, all taps shut: read the static gauge. Nothing drips.",
    "Power on. Put in the settings above. Open a tap until the pump runs, shut it, let the pump "
    "stop.",
    "Take the readings below in their order. One that is off by more than a tenth has a cause: "
    "find "
    "it before going on.",
    "All taps shut for ten minutes: the gauge stands. If it falls to the static gauge's reading, "
    "the "
    "check valve passes; if the pump starts, there is a leak.",
    "Leave this sheet with the installation.",
};

static void fill_steps(struct filler *filler)
{
    struct sheet_content *content = filler->content;
    char precharge[SHEET_VALUE_MOST], warmth[SHEET_VALUE_MOST];

    amount(precharge, filler, PD_KIND_PRESSURE, filler->sheet->strategy.precharge);
    amount(warmth, filler, PD_KIND_TEMPERATURE, filler->sheet->temperature);
    content->step_count = sizeof steps / sizeof steps[0];
    for (size_t i = 0; i < content->step_count; i++) {
        const char *gap = strstr(steps[i], "%s");
        const char *second = gap != NULL ? strstr(gap + 2, "%s") : NULL;
        if (gap == NULL || second == NULL) {
            (void)snprintf(content->step[i], SHEET_STEP_MOST, "%s", steps[i]);
            continue;
        }
        (void)snprintf(content->step[i], SHEET_STEP_MOST, "%.*s%s%.*s%s%s", (int)(gap - steps[i]),
                       steps[i], precharge, (int)(second - gap - 2), gap + 2, warmth, second + 2);
    }
}

/* Why a reading is not there. */
static const char *no_start(const struct pd_bench *bench)
{
    return bench->runs_already ? "runs already" : "no start";
}

static const char *no_stop(const struct pd_bench *bench)
{
    // a two-pressure switch does not wait for the taps
    if (isnan(bench->one_tap_flow)) {
        return "by pressure";
    }
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

struct reading {
    const char *label;
    enum pd_kind kind;
    size_t offset; /* in struct pd_bench */
    const char *(*absent)(const struct pd_bench *bench);
};

#define READING(label, kind, member, absent)                                                       \
    {                                                                                              \
        label, PD_KIND_##kind, offsetof(struct pd_bench, member), absent                           \
    }

static const struct reading readings[] = {
    READING("static gauge: pump off, taps shut", PRESSURE, supply, no_start),
    READING("gauge at rest: it has run and stopped", PRESSURE, rest, no_start),
    READING("one tap opened: time to the start", TIME, seconds, no_start),
    READING("one tap opened: drawn before the start (bucket)", VOLUME, drawn, no_start),
    READING("gauge as the pump starts", PRESSURE, start, no_start),
    READING("gauge, one tap open", PRESSURE, one_tap, no_steady),
    READING("flow of that tap (bucket and watch)", FLOW, one_tap_flow, no_steady),
    READING("power drawn, one tap open", POWER, one_tap_power, no_steady),
    READING("one tap open: time between starts", TIME, one_tap_cycle, no_cycle),
    READING("tap shut: time to the stop (run-on)", TIME, run_on, no_stop),
    READING("shutoff gauge: as the pump stops, taps shut", PRESSURE, shutoff, no_stop),
    READING("gauge, three taps open", PRESSURE, three_taps, no_steady),
    READING("a trickle open: time between starts", TIME, trickle_cycle, no_trickle),
};

static void fill_readings(struct filler *filler)
{
    struct sheet_content *content = filler->content;
    const struct pd_sheet *sheet = filler->sheet;

    content->column_count = sheet->count;
    content->reading_count = sizeof readings / sizeof readings[0];
    for (size_t i = 0; i < content->reading_count; i++) {
        struct sheet_reading *row = &content->reading[i];
        (void)snprintf(row->label, sizeof row->label, "%s", readings[i].label);
        for (size_t j = 0; j < sheet->count; j++) {
            const char *place = (const char *)&sheet->bench[j] + readings[i].offset;
            double si = *(const double *)(const void *)place;
            if (isnan(si)) {
                (void)snprintf(row->value[j], SHEET_VALUE_MOST, "%s",
                               readings[i].absent(&sheet->bench[j]));
            } else {
                amount(row->value[j], filler, readings[i].kind, si);
            }
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
    amount(tap, filler, PD_KIND_FLOW, filler->sheet->tap_flow);
    amount(trickle, filler, PD_KIND_FLOW, filler->sheet->trickle_flow);
    amount(pressure, filler, PD_KIND_PRESSURE,
           filler->scenario->value[PD_DEMAND_REFERENCE_PRESSURE]);
    if (content->column_count > 1) {
        columns = " Read the static gauge first: the column that is nearest to it holds.";
    }
    (void)snprintf(content->taps, sizeof content->taps,
                   "From the simulation. A tap gives %s, a trickle %s, at %s.%s", tap, trickle,
                   pressure, columns);
}

void sheet_content_fill(struct sheet_content *content, const struct pd_scenario *scenario,
                        const struct pd_sheet *sheet, enum pd_unit_system units)
{
    struct filler filler = {content, scenario, sheet, units};

    memset(content, 0, sizeof *content);
    content->title = scenario->title[0] != '\0' ? scenario->title : "water pressure booster";
    content->strategy = sheet->strategy.kind->name;
    fill_settings(&filler);
    fill_steps(&filler);
    fill_readings(&filler);
    fill_heads(&filler);
}
