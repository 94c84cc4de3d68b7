/* Lays out several comparisons: scenarios below each other, each with a row a strategy. */
#include "present/several_table.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

/* The longest strategy's name and an indent fit the first; the line ends within 100. */
enum { LABEL_WIDTH = 17, CELL_WIDTH = 8, REASON_WIDTH = 90 };

#define CELL(first, second, kind, si, us, member, si_decimals, us_decimals)                        \
    {                                                                                              \
        {first, second}, {first, PD_KIND_##kind,  si,                                              \
                          us,    PD_STORE_DOUBLE, offsetof(struct several_row, member)},           \
            si_decimals, us_decimals                                                               \
    }

// clang-format off
static const struct cell {
    const char *name[2];
    struct pd_column column;
    int si_decimals, us_decimals;
} cells[SEVERAL_CELLS] = {
    CELL("", "starts", NUMBER, NULL, NULL, starts, 0, 0),
    CELL("worst", "hour", NUMBER, NULL, NULL, worst_hour, 0, 0),
    CELL("run", "time", TIME, "h", "h", run_time, 2, 2),
    CELL("", "energy", ENERGY, "kWh", "kWh", energy, 3, 3),
    CELL("", "cost", NUMBER, NULL, NULL, cost, 2, 2),
    CELL("", "water", VOLUME, "L", "gal", water, 0, 0),
    CELL("shortest", "run", TIME, "s", "s", shortest_run, 1, 1),
    CELL("lowest", "tap", PRESSURE, "kPa", "psi", lowest_tap, 0, 1),
    CELL("highest", "header", PRESSURE, "kPa", "psi", highest, 0, 1),
};
// clang-format on

enum { COST_CELL = 4 };

struct several_row several_row_of(const struct pd_compared *compared, size_t strategy)
{
    const struct pd_comparison_row *row = &compared->comparison.row[strategy];
    const struct pd_day_result *day = &row->result;

    return (struct several_row){
        .scenario = compared->name,
        .weight = compared->weight,
        .strategy = day->strategy.kind->name,
        .starts = day->starts,
        .worst_hour = day->starts_in_worst_hour,
        .run_time = day->run_time,
        .energy = day->energy,
        .cost = pd_day_cost(compared->scenario, day),
        .water = day->delivered,
        .shortest_run = day->shortest_run,
        .lowest_tap = day->lowest_tap_pressure,
        .below_tap = day->time_below_tap_limit,
        .highest = day->highest_header_pressure,
        .verdict = row->verdict,
        .good = row->good,
    };
}

bool several_weighted(const struct pd_compared *list, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (list[i].weight != 1) {
            return true;
        }
    }
    return false;
}

/* "ok", or "5 of 7 days: weekday", the scenarios on whose days it fails. */
static void tell_failing(char verdict[PD_VERDICT_MOST], const struct pd_compared *list,
                         size_t count, size_t strategy, const struct pd_total *total)
{
    const char *before = ": ";
    size_t length = 0;

    (void)snprintf(verdict, PD_VERDICT_MOST, "ok");
    if (total->failing > 0) {
        (void)snprintf(verdict, PD_VERDICT_MOST, "%ld of %ld days", total->failing, total->days);
        length = strlen(verdict);
    }
    for (size_t i = 0; i < count && length < PD_VERDICT_MOST; i++) {
        if (!list[i].comparison.row[strategy].good) {
            int more =
                snprintf(verdict + length, PD_VERDICT_MOST - length, "%s%s", before, list[i].name);
            length += more > 0 ? (size_t)more : 0;
            before = ", ";
        }
    }
}

struct several_row several_row_all(const struct pd_compared *list, size_t count, size_t strategy,
                                   char verdict[PD_VERDICT_MOST])
{
    struct pd_total total = pd_compare_total(list, count, strategy);

    tell_failing(verdict, list, count, strategy, &total);
    return (struct several_row){
        .scenario = "all",
        .weight = (int)total.days,
        .strategy = total.strategy->name,
        .starts = total.starts,
        .worst_hour = total.starts_in_worst_hour,
        .run_time = total.run_time,
        .energy = total.energy,
        .cost = total.cost,
        .water = total.delivered,
        .shortest_run = total.shortest_run,
        .lowest_tap = total.lowest_tap_pressure,
        .below_tap = total.time_below_tap_limit,
        .highest = total.highest_header_pressure,
        .verdict = verdict,
        .good = total.failing == 0,
    };
}

void several_heads(struct several_head heads[SEVERAL_CELLS], const struct pd_compared *list,
                   size_t count, enum pd_unit_system units)
{
    for (size_t i = 0; i < SEVERAL_CELLS; i++) {
        const char *unit = pd_column_unit(&cells[i].column, units);
        if (i == COST_CELL) {
            unit = pd_compared_currency(list, count);
        }
        heads[i].name[0] = cells[i].name[0];
        heads[i].name[1] = cells[i].name[1];
        (void)snprintf(heads[i].unit, SEVERAL_CELL_MOST, "%s", unit != NULL ? unit : "");
    }
}

void several_cells(const struct several_row *row, enum pd_unit_system units,
                   char out[SEVERAL_CELLS][SEVERAL_CELL_MOST])
{
    for (size_t i = 0; i < SEVERAL_CELLS; i++) {
        int decimals = units == PD_UNITS_US ? cells[i].us_decimals : cells[i].si_decimals;
        double value = pd_column_number(&cells[i].column, units, row);
        (void)snprintf(out[i], SEVERAL_CELL_MOST, isfinite(value) ? "%.*f" : "-", decimals, value);
    }
}

static void write_heads(FILE *stream, const struct pd_compared *list, size_t count,
                        enum pd_unit_system units)
{
    struct several_head heads[SEVERAL_CELLS];

    several_heads(heads, list, count, units);
    for (int line = 0; line < 3; line++) {
        (void)fprintf(stream, "%*s", LABEL_WIDTH, "");
        for (size_t i = 0; i < SEVERAL_CELLS; i++) {
            char text[SEVERAL_CELL_MOST + 2] = "";
            if (line < 2) {
                (void)snprintf(text, sizeof text, "%s", heads[i].name[line]);
            } else if (heads[i].unit[0] != '\0') {
                (void)snprintf(text, sizeof text, "[%s]", heads[i].unit);
            }
            (void)fprintf(stream, "%*s", CELL_WIDTH, text);
        }
        (void)fputc('\n', stream);
    }
}

/* What fails, below its row, in as few lines as may be. */
static void write_reasons(FILE *stream, const struct several_row *row)
{
    const char *rest = row->verdict;
    size_t used = REASON_WIDTH;

    while (rest != NULL) {
        char part[REASON_WIDTH];
        rest = pd_text_part(rest, part, REASON_WIDTH);
        bool fits = used + 2 + strlen(part) < REASON_WIDTH;
        const char *before = fits ? "; " : used < REASON_WIDTH ? ";\n      " : "      ";
        used = (fits ? used + 2 : 0) + strlen(part);
        (void)fprintf(stream, "%s%s", before, part);
    }
    (void)fputc('\n', stream);
}

static void write_row(FILE *stream, const struct several_row *row, enum pd_unit_system units,
                      bool colour)
{
    const char *mark = row->good ? "\x1b[32m" : "\x1b[31m";
    char text[SEVERAL_CELLS][SEVERAL_CELL_MOST];

    several_cells(row, units, text);
    (void)fprintf(stream, "  %-*s", LABEL_WIDTH - 2, row->strategy);
    for (size_t i = 0; i < SEVERAL_CELLS; i++) {
        (void)fprintf(stream, "%*s", CELL_WIDTH, text[i]);
    }
    (void)fprintf(stream, colour ? "%*s%s%s\x1b[0m\n" : "%*s%s%s\n", 2, "", colour ? mark : "",
                  row->good ? "ok" : "fails");
    if (!row->good) {
        write_reasons(stream, row);
    }
}

static void write_scenario(FILE *stream, const struct pd_compared *compared, bool weighted)
{
    pd_text_put(stream, compared->name);
    (void)fprintf(stream, ": ");
    pd_text_put(stream, compared->scenario->title);
    if (weighted) {
        (void)fprintf(stream, ", %d day%s", compared->weight, compared->weight > 1 ? "s" : "");
    }
    (void)fprintf(stream, "%s\n", compared->scenario->drawn ? " (day 1 of its household)" : "");
}

void several_table_write(FILE *stream, const struct pd_compared *list, size_t count,
                         enum pd_unit_system units, bool colour)
{
    bool weighted = several_weighted(list, count);
    size_t strategies = list[0].comparison.count;

    write_heads(stream, list, count, units);
    for (size_t i = 0; i < count; i++) {
        write_scenario(stream, &list[i], weighted);
        for (size_t k = 0; k < strategies; k++) {
            struct several_row row = several_row_of(&list[i], k);
            write_row(stream, &row, units, colour);
        }
    }
    (void)fprintf(stream, "all together: sums of %s, the worst of any\n",
                  weighted ? "so many days each" : "a day each");
    for (size_t k = 0; k < strategies; k++) {
        char verdict[PD_VERDICT_MOST];
        struct several_row row = several_row_all(list, count, k, verdict);
        write_row(stream, &row, units, colour);
    }
}
