/* Lays out the table of a comparison.  A row is a column in the sense of columns.h: a label, a unit
 * and a place in the record of a day. */
#include "present/table.h"
#include "base/text.h"

#include <math.h>
#include <string.h>

/* Widths in characters: the longest label with its unit fits the first, and with three of the
 * others the line ends at 100. */
enum { LABEL_WIDTH = 37, CELL_WIDTH = 21 };

struct row {
    struct pd_column column;
    int si_decimals, us_decimals;
};

#define ROW(label, kind, si, us, store, member, si_decimals, us_decimals)                          \
    {                                                                                              \
        {label, PD_KIND_##kind, si, us, PD_STORE_##store, offsetof(struct pd_report_day, member)}, \
            si_decimals, us_decimals                                                               \
    }

// clang-format off
static const struct row setting_rows[] = {
    ROW("start pressure", PRESSURE, "kPa", "psi", DOUBLE, result.strategy.start_pressure, 0, 1),
    ROW("start flow", FLOW, "L/min", "gpm", DOUBLE, result.strategy.start_flow, 2, 2),
    ROW("stop flow", FLOW, "L/min", "gpm", DOUBLE, result.strategy.stop_flow, 2, 2),
    ROW("stop pressure", PRESSURE, "kPa", "psi", DOUBLE, result.strategy.stop_pressure, 0, 1),
    ROW("run-on", TIME, "s", "s", DOUBLE, result.strategy.run_on, 1, 1),
    ROW("precharge", PRESSURE, "kPa", "psi", DOUBLE, result.strategy.precharge, 0, 1),
};

static const struct row figure_rows[] = {
    ROW("starts", NUMBER, NULL, NULL, INT, result.starts, 0, 0),
    ROW("starts in worst hour", NUMBER, NULL, NULL, INT, result.starts_in_worst_hour, 0, 0),
    ROW("run time", TIME, "h", "h", DOUBLE, result.run_time, 2, 2),
    ROW("energy", ENERGY, "kWh", "kWh", DOUBLE, result.energy, 3, 3),
    ROW("cost", NUMBER, NULL, NULL, DOUBLE, cost, 2, 2),
    ROW("water to the taps", VOLUME, "L", "gal", DOUBLE, result.delivered, 0, 1),
    ROW("specific energy", SPECIFIC_ENERGY, "kWh/m3", "kWh/kgal", DOUBLE, specific_energy, 3, 3),
    ROW("shortest run", TIME, "s", "s", DOUBLE, result.shortest_run, 1, 1),
    ROW("shortest rest", TIME, "s", "s", DOUBLE, result.shortest_rest, 1, 1),
    ROW("lowest tap pressure", PRESSURE, "kPa", "psi", DOUBLE, result.lowest_tap_pressure, 0, 1),
    ROW("time below tap limit", TIME, "s", "s", DOUBLE, result.time_below_tap_limit, 0, 0),
    ROW("lowest suction pressure", PRESSURE, "kPa", "psi", DOUBLE, result.lowest_suction_pressure,
        0, 1),
    ROW("highest header pressure", PRESSURE, "kPa", "psi", DOUBLE, result.highest_header_pressure,
        0, 1),
    ROW("run time off the pump's curve", SHARE, "%", "%", DOUBLE, run_off_curve, 1, 1),
    ROW("water off the pump's curve", SHARE, "%", "%", DOUBLE, water_off_curve, 1, 1),
    ROW("water balance error", VOLUME, "L", "gal", DOUBLE, result.balance_error, 4, 5),
};
// clang-format on

/* The days and how to show them. */
struct view {
    FILE *stream;
    struct pd_report_day days[PD_STRATEGIES_MOST];
    size_t count;
    enum pd_unit_system units;
    bool colour;
};

/* The unit of a row; of money the currency of the scenario. */
static const char *unit_of(const struct view *view, const struct pd_column *column)
{
    const char *currency = view->days[0].currency;

    if (column->offset != offsetof(struct pd_report_day, cost)) {
        return pd_column_unit(column, view->units);
    }
    return currency != NULL && currency[0] != '\0' ? currency : NULL;
}

/* Bytes of UTF-8 that go on with a character and take no room of their own. */
static int widthless(const char *text)
{
    int count = 0;

    for (; *text != '\0'; text++) {
        count += ((unsigned char)*text & 0xC0U) == 0x80U ? 1 : 0;
    }
    return count;
}

static void label_text(const struct view *view, const struct pd_column *column,
                       char label[PD_TABLE_CELL_MOST])
{
    const char *unit = unit_of(view, column);

    if (unit != NULL) {
        (void)snprintf(label, PD_TABLE_CELL_MOST, "%s [%s]", column->name, unit);
    } else {
        (void)snprintf(label, PD_TABLE_CELL_MOST, "%s", column->name);
    }
}

static void cell_text(const struct view *view, const struct row *row, size_t day,
                      char cell[PD_TABLE_CELL_MOST])
{
    int decimals = view->units == PD_UNITS_US ? row->us_decimals : row->si_decimals;
    double value = pd_column_number(&row->column, view->units, &view->days[day]);
    double least = 0.5 * pow(10, -decimals);

    if (!isfinite(value)) {
        (void)snprintf(cell, PD_TABLE_CELL_MOST, "-");
        return;
    }
    // what rounds to nothing is shown without a sign
    value = fabs(value) < least ? 0 : value;
    (void)snprintf(cell, PD_TABLE_CELL_MOST, "%.*f", decimals, value);
}

/* A setting that no strategy has says nothing. */
static bool is_known(const struct view *view, const struct pd_column *column)
{
    for (size_t i = 0; i < view->count; i++) {
        if (isfinite(pd_column_number(column, view->units, &view->days[i]))) {
            return true;
        }
    }
    return false;
}

/* Rows as text, less those that say nothing; returns how many. */
static size_t fill_rows(const struct view *view, const struct row *rows, size_t count,
                        struct pd_table_row *out)
{
    size_t filled = 0;

    for (size_t i = 0; i < count; i++) {
        if (is_known(view, &rows[i].column)) {
            label_text(view, &rows[i].column, out[filled].label);
            for (size_t day = 0; day < view->count; day++) {
                cell_text(view, &rows[i], day, out[filled].cell[day]);
            }
            filled++;
        }
    }
    return filled;
}

static void write_rows(const struct view *view, const struct pd_table_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const char *label = rows[i].label;
        (void)fprintf(view->stream, "  %-*s", LABEL_WIDTH - 2 + widthless(label), label);
        for (size_t day = 0; day < view->count; day++) {
            (void)fprintf(view->stream, "%*s", CELL_WIDTH, rows[i].cell[day]);
        }
        (void)fputc('\n', view->stream);
    }
}

static void write_heads(const struct view *view)
{
    (void)fprintf(view->stream, "%*s", LABEL_WIDTH, "");
    for (size_t i = 0; i < view->count; i++) {
        (void)fprintf(view->stream, "%*s", CELL_WIDTH, view->days[i].strategy);
    }
    (void)fputc('\n', view->stream);
}

static void write_verdict_cell(const struct view *view, size_t day, const char *part)
{
    static const char *const bad = "\x1b[31m", *const good = "\x1b[32m", *const plain = "\x1b[0m";

    if (view->colour && part[0] != '\0') {
        int gap = CELL_WIDTH - (int)strlen(part);
        (void)fprintf(view->stream, "%*s%s%s%s", gap, "", view->days[day].good ? good : bad, part,
                      plain);
    } else {
        (void)fprintf(view->stream, "%*s", CELL_WIDTH, part);
    }
}

/* One part of each verdict a line, until all are through. */
static void write_verdicts(const struct view *view)
{
    const char *rest[PD_STRATEGIES_MOST];
    bool more = true;

    for (size_t i = 0; i < view->count; i++) {
        rest[i] = view->days[i].verdict;
    }
    for (bool first = true; more; first = false) {
        more = false;
        (void)fprintf(view->stream, "  %-*s", LABEL_WIDTH - 2, first ? "verdict" : "");
        for (size_t i = 0; i < view->count; i++) {
            char part[CELL_WIDTH] = "";
            if (rest[i] != NULL) {
                rest[i] = pd_text_part(rest[i], part, CELL_WIDTH);
            }
            write_verdict_cell(view, i, part);
            more = more || rest[i] != NULL;
        }
        (void)fputc('\n', view->stream);
    }
}

static struct view view_of(const struct pd_report_day *days, size_t count,
                           enum pd_unit_system units)
{
    struct view view = {.count = count, .units = units};

    for (size_t i = 0; i < count; i++) {
        view.days[i] = days[i];
        view.days[i].result.strategy = pd_strategy_shown(&days[i].result.strategy);
    }
    return view;
}

/* The last row tells of the arithmetic: nothing to a client. */
enum { FIGURE_ROWS = sizeof figure_rows / sizeof figure_rows[0], CLIENT_ROWS = FIGURE_ROWS - 1 };

static size_t table_rows(const struct view *view, size_t figures,
                         struct pd_table_row rows[PD_TABLE_ROWS_MOST], size_t *settings)
{
    *settings = fill_rows(view, setting_rows, sizeof setting_rows / sizeof setting_rows[0], rows);
    return *settings + fill_rows(view, figure_rows, figures, rows + *settings);
}

size_t pd_table_rows(const struct pd_report_day *days, size_t count, enum pd_unit_system units,
                     struct pd_table_row rows[PD_TABLE_ROWS_MOST], size_t *settings)
{
    struct view view = view_of(days, count, units);

    return table_rows(&view, CLIENT_ROWS, rows, settings);
}

void pd_table_write(FILE *stream, const struct pd_report_day *days, size_t count,
                    enum pd_unit_system units, bool colour)
{
    struct view view = view_of(days, count, units);
    struct pd_table_row rows[PD_TABLE_ROWS_MOST];
    size_t settings;
    size_t all = table_rows(&view, FIGURE_ROWS, rows, &settings);

    view.stream = stream;
    view.colour = colour;
    write_heads(&view);
    (void)fputs("settings\n", stream);
    write_rows(&view, rows, settings);
    (void)fputs("the day\n", stream);
    write_rows(&view, rows + settings, all - settings);
    write_verdicts(&view);
}
