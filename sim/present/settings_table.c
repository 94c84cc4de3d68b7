/* Lays out settings: a row a quantity, a column a strategy. */
#include "present/settings_table.h"
#include "base/text.h"

#include "output/amount.h"
#include "present/limits_text.h"
#include "present/settings_reason.h"

#include <math.h>
#include <string.h>

enum { LABEL_WIDTH = 37, CELL_WIDTH = 21 };

/* A row of figures: where the number stands in a record, and what it is. */
struct row {
    const char *label;
    enum pd_kind kind;
    double (*number)(const void *record);
};

static double start_pressure(const void *record)
{
    return ((const struct pd_setting *)record)->strategy.start_pressure;
}

static double start_flow(const void *record)
{
    return ((const struct pd_setting *)record)->strategy.start_flow;
}

static double stop_flow(const void *record)
{
    const struct pd_strategy *strategy = &((const struct pd_setting *)record)->strategy;

    // a two-pressure switch does not look at the flow
    return isnan(strategy->stop_pressure) ? strategy->stop_flow : (double)NAN;
}

static double stop_pressure(const void *record)
{
    return ((const struct pd_setting *)record)->strategy.stop_pressure;
}

static double run_on(const void *record)
{
    const struct pd_strategy *strategy = &((const struct pd_setting *)record)->strategy;

    // nor has it a run-on
    return isnan(strategy->stop_pressure) ? strategy->run_on : (double)NAN;
}

static double precharge(const void *record)
{
    return ((const struct pd_setting *)record)->strategy.precharge;
}

static double tank(const void *record)
{
    const struct pd_setting *setting = record;

    return setting->found ? setting->tank : (double)NAN;
}

/* Where no tank will do, the one that the day is shown with. */
static double tank_in_vain(const void *record)
{
    const struct pd_setting *setting = record;

    return setting->found ? (double)NAN : setting->tank;
}

static double worst_hour(const void *record)
{
    return ((const struct pd_outcome *)record)->starts_in_worst_hour;
}

static double starts(const void *record)
{
    return ((const struct pd_outcome *)record)->starts;
}

static double shortest_run(const void *record)
{
    return ((const struct pd_outcome *)record)->shortest_run;
}

static double cost(const void *record)
{
    return ((const struct pd_outcome *)record)->cost;
}

static double lowest_tap(const void *record)
{
    return ((const struct pd_outcome *)record)->lowest_tap_pressure;
}

static double lowest_suction(const void *record)
{
    return ((const struct pd_outcome *)record)->lowest_suction_pressure;
}

static const struct row setting_rows[] = {
    {"start pressure", PD_KIND_PRESSURE, start_pressure},
    {"start flow", PD_KIND_FLOW, start_flow},
    {"stop pressure", PD_KIND_PRESSURE, stop_pressure},
    {"stop flow", PD_KIND_FLOW, stop_flow},
    {"run-on", PD_KIND_TIME, run_on},
    {"precharge, water side drained", PD_KIND_PRESSURE, precharge},
    {"smallest tank of the list", PD_KIND_VOLUME, tank},
    {"none will do; the day is that with", PD_KIND_VOLUME, tank_in_vain},
};

/* the label that has a currency behind it */
#define COST_LABEL "cost of the day"

static const struct row day_rows[] = {
    {"starts in the worst hour", PD_KIND_STARTS, worst_hour},
    {"starts in the day", PD_KIND_STARTS, starts},
    {"shortest run", PD_KIND_TIME, shortest_run},
    {COST_LABEL, PD_KIND_NUMBER, cost},
    {"lowest tap pressure", PD_KIND_PRESSURE, lowest_tap},
    {"lowest suction pressure", PD_KIND_PRESSURE, lowest_suction},
};

static double trickle(const void *record)
{
    const struct pd_setting *setting = record;

    return setting->found ? setting->trickle : (double)NAN;
}

/* The tank that stands the trickle, where another than the one found does. */
static double trickle_tank(const void *record)
{
    const struct pd_setting *setting = record;

    return setting->found && setting->trickle_tank > setting->tank ? setting->trickle_tank
                                                                   : (double)NAN;
}

static const struct row trickle_rows[] = {
    {"that flow", PD_KIND_FLOW, trickle},
    {"smallest tank that stands it", PD_KIND_VOLUME, trickle_tank},
};

static const struct row off_rows[] = {
    {"starts in the worst hour", PD_KIND_STARTS, worst_hour},
    {"lowest tap pressure", PD_KIND_PRESSURE, lowest_tap},
};

#define COUNT(list) (sizeof(list) / sizeof(list)[0])

/* The records that a block of rows is about, one a column; NULL leaves its cells empty. */
struct block {
    FILE *stream;
    enum pd_unit_system units;
    const char *currency; /* "" for none */
    size_t count;
    const void *record[PD_STRATEGIES_MOST];
};

static bool is_known(const struct block *block, const struct row *row)
{
    for (size_t i = 0; i < block->count; i++) {
        if (block->record[i] != NULL && isfinite(row->number(block->record[i]))) {
            return true;
        }
    }
    return false;
}

static void write_label(const struct block *block, const char *label)
{
    char text[LABEL_WIDTH + PD_CURRENCY_MOST];

    if (strcmp(label, COST_LABEL) == 0 && block->currency[0] != '\0') {
        (void)snprintf(text, sizeof text, "%s [%s]", label, block->currency);
    } else {
        (void)snprintf(text, sizeof text, "%s", label);
    }
    (void)fprintf(block->stream, "  %-*s", LABEL_WIDTH - 2, text);
}

static void write_rows(const struct block *block, const struct row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (!is_known(block, &rows[i])) {
            continue;
        }
        write_label(block, rows[i].label);
        for (size_t j = 0; j < block->count; j++) {
            char cell[PD_AMOUNT_MOST] = "";
            if (block->record[j] != NULL) {
                pd_amount_text(cell, rows[i].kind, block->units, rows[i].number(block->record[j]));
            }
            (void)fprintf(block->stream, "%*s", CELL_WIDTH, cell);
        }
        (void)fputc('\n', block->stream);
    }
}

/* The verdicts of outcomes, a fault a line. */
static void write_verdicts(const struct block *block)
{
    const char *rest[PD_STRATEGIES_MOST] = {NULL};
    bool more = true;

    for (size_t i = 0; i < block->count; i++) {
        const struct pd_outcome *outcome = block->record[i];
        rest[i] = outcome != NULL ? outcome->verdict : NULL;
    }
    for (bool first = true; more; first = false) {
        more = false;
        (void)fprintf(block->stream, "  %-*s", LABEL_WIDTH - 2, first ? "verdict" : "");
        for (size_t i = 0; i < block->count; i++) {
            char part[CELL_WIDTH] = "";
            if (rest[i] != NULL) {
                rest[i] = pd_text_part(rest[i], part, CELL_WIDTH);
            }
            (void)fprintf(block->stream, "%*s", CELL_WIDTH, part);
            more = more || rest[i] != NULL;
        }
        (void)fputc('\n', block->stream);
    }
}

static void write_trickle(const struct block *block, const struct pd_settings *settings)
{
    struct block flows = *block;

    for (size_t i = 0; i < settings->count; i++) {
        flows.record[i] = &settings->setting[i];
    }
    write_rows(&flows, trickle_rows, COUNT(trickle_rows));
}

static void write_off(struct block *block, const struct pd_settings *settings, enum pd_off off,
                      const char *head)
{
    bool any = false;

    for (size_t i = 0; i < settings->count; i++) {
        const struct pd_setting *setting = &settings->setting[i];
        block->record[i] = setting->found ? &setting->off[off] : NULL;
        any = any || setting->found;
    }
    if (any) {
        (void)fprintf(block->stream, "%s\n", head);
        if (off == PD_OFF_TRICKLE) {
            write_trickle(block, settings);
        }
        write_rows(block, off_rows, COUNT(off_rows));
        write_verdicts(block);
    }
}

static void write_offs(struct block *block, const struct pd_settings *settings,
                       const struct pd_settings_options *options)
{
    char head[PD_OFF_WORDS_MOST];

    for (enum pd_off off = 0; off < PD_OFF_COUNT; off++) {
        pd_off_words(head, off, options);
        write_off(block, settings, off, head);
    }
}

void pd_settings_write_table(FILE *stream, const struct pd_scenario *scenario,
                             const struct pd_settings *settings,
                             const struct pd_settings_options *options)
{
    struct block block = {.stream = stream,
                          .units = options->units,
                          .currency = scenario->currency,
                          .count = settings->count};
    char warmth[PD_AMOUNT_MOST];

    (void)fprintf(stream, "%*s", LABEL_WIDTH, "");
    for (size_t i = 0; i < settings->count; i++) {
        (void)fprintf(stream, "%*s", CELL_WIDTH, settings->setting[i].strategy.kind->name);
        block.record[i] = &settings->setting[i];
    }
    pd_amount_text(warmth, PD_KIND_TEMPERATURE, options->units,
                   scenario->value[PD_WATER_TEMPERATURE]);
    (void)fprintf(stream, "\nto set (precharge at %s)\n", warmth);
    write_rows(&block, setting_rows, COUNT(setting_rows));
    for (size_t i = 0; i < settings->count; i++) {
        block.record[i] = &settings->setting[i].day;
    }
    (void)fprintf(stream, "the day\n");
    write_rows(&block, day_rows, COUNT(day_rows));
    write_verdicts(&block);
    write_offs(&block, settings, options);
    pd_limits_write(stream, "limits", &settings->limits, options->units);
}

void pd_settings_write_cautions(FILE *stream, const struct pd_settings *settings,
                                enum pd_unit_system units)
{
    char low[PD_AMOUNT_MOST];

    for (size_t i = 0; i < settings->count; i++) {
        const struct pd_setting *setting = &settings->setting[i];
        if (!setting->draws_main_down) {
            continue;
        }
        pd_amount_text(low, PD_KIND_PRESSURE, units, setting->day.lowest_suction_pressure);
        (void)fprintf(
            stream,
            "caution: %s draws the main down to %s at the pump's inlet, below the "
            "pressure of the\n  air: see `pumpday check`, ask the supplier of the main.\n",
            setting->strategy.kind->name, low);
    }
}

/* A value in its unit, with enough digits to come back as it was. */
static void value_text(char text[PD_AMOUNT_MOST], const struct pd_setting_row *row)
{
    const struct pd_unit *unit = pd_unit_find(pd_items[row->item].kind, row->unit);

    if (isnan(row->value) || unit == NULL) {
        (void)snprintf(text, PD_AMOUNT_MOST, "none");
        return;
    }
    (void)snprintf(text, PD_AMOUNT_MOST, "%.10g", pd_unit_from_si(unit, row->value));
}

void pd_setting_write_rows(FILE *stream, const struct pd_scenario *scenario,
                           const struct pd_setting *setting, enum pd_unit_system units)
{
    struct pd_setting_row rows[PD_SETTING_ROWS];
    size_t count = pd_setting_rows(scenario, setting, units, rows);
    char value[PD_AMOUNT_MOST], warmth[PD_AMOUNT_MOST];

    pd_amount_text(warmth, PD_KIND_TEMPERATURE, units, scenario->value[PD_WATER_TEMPERATURE]);
    (void)fprintf(stream,
                  "# Settings for %s. Rows of site.csv: put them in place of the rows of the same "
                  "items.\n# Precharge as read with the water side drained, at %s.\n"
                  "item,value,unit,note\n",
                  setting->strategy.kind->name, warmth);
    for (size_t i = 0; i < count; i++) {
        value_text(value, &rows[i]);
        (void)fprintf(stream, "%s,%s,%s,\n", pd_items[rows[i].item].name, value, rows[i].unit);
    }
}

void pd_setting_write_sets(FILE *stream, const struct pd_scenario *scenario,
                           const struct pd_setting *setting, enum pd_unit_system units)
{
    struct pd_setting_row rows[PD_SETTING_ROWS];
    size_t count = pd_setting_rows(scenario, setting, units, rows);
    char value[PD_AMOUNT_MOST];

    for (size_t i = 0; i < count; i++) {
        value_text(value, &rows[i]);
        (void)fprintf(stream, "  --set \"%s=%s%s%s\"%s\n", pd_items[rows[i].item].name, value,
                      rows[i].unit[0] != '\0' ? " " : "", rows[i].unit, i + 1 < count ? " \\" : "");
    }
}
