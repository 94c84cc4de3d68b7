/* Reads tariff.csv: hours of the day at prices of their own. */
#include "scenario/columns.h"
#include "scenario/read.h"
#include "scenario/table.h"

#include <math.h>
#include <string.h>

enum { COLUMN_FROM, COLUMN_TO, COLUMN_PRICE, COLUMN_COUNT };

static const struct pd_column columns[] = {
    [COLUMN_FROM] = {"from", {PD_KIND_TIME, "h", 0, 24}, true, true},
    [COLUMN_TO] = {"to", {PD_KIND_TIME, "h", 0, 24}, true, true},
    // the limits of energy.price
    [COLUMN_PRICE] = {"price", {PD_KIND_PRICE, "/kWh", 0, 1000}, false, true},
};

_Static_assert(sizeof columns / sizeof columns[0] == COLUMN_COUNT, "a row for each column");

/* The days' totals are kept by the hour, so prices change on it. */
static bool read_hour(const struct pd_row *row, size_t column, int *hour)
{
    double time = 0;

    if (!pd_heads_number(row->heads, row->table, row->number, column, &time, row->faults)) {
        return false;
    }
    double hours = time / 3600;
    if (fabs(hours - round(hours)) > 1e-9) {
        return pd_row_wrong(row, column, "not on the hour", "a whole hour");
    }
    *hour = (int)lround(hours);
    return true;
}

/* Hours from one to before the other, over midnight where it must be. */
static bool put_price(struct pd_scenario *scenario, const struct pd_row *row, int from, int to,
                      double price)
{
    int count = (to - from + PD_TARIFF_HOURS) % PD_TARIFF_HOURS;
    bool good = true;

    if (count == 0) {
        if (from == to) {
            return pd_row_wrong(row, COLUMN_TO, "no hour lies between", "another hour than from");
        }
        count = PD_TARIFF_HOURS;
    }
    for (int i = 0; i < count; i++) {
        double *hour = &scenario->tariff[(from + i) % PD_TARIFF_HOURS];
        if (!isnan(*hour) && good) {
            good = pd_row_wrong(row, COLUMN_FROM, "hours that a row before this one prices too",
                                "each hour once at the most");
        }
        *hour = price;
    }
    return good;
}

static bool read_row(struct pd_scenario *scenario, const struct pd_row *row)
{
    int from = 0, to = 0;
    double price = 0;
    bool good = pd_heads_row_fits(row->table, row->number, row->faults);

    good = read_hour(row, COLUMN_FROM, &from) && good;
    good = read_hour(row, COLUMN_TO, &to) && good;
    good =
        pd_heads_number(row->heads, row->table, row->number, COLUMN_PRICE, &price, row->faults) &&
        good;
    return good && put_price(scenario, row, from, to, price);
}

/* The currency in the head of the prices: "EUR" of `price [EUR/kWh]`. */
static void take_currency(struct pd_scenario *scenario, const struct pd_heads *heads,
                          const struct pd_table *table)
{
    const char *open = strchr(pd_heads_text(heads, table, 0, COLUMN_PRICE), '[');

    if (open != NULL) {
        pd_currency_of(open + 1, scenario->tariff_currency);
    }
}

static bool read_rows(struct pd_scenario *scenario, struct pd_table *table,
                      struct pd_faults *faults)
{
    struct pd_heads heads;
    bool good = !table->damaged;

    scenario->has_tariff = true;
    if (!pd_heads_read(&heads, columns, COLUMN_COUNT, table, faults)) {
        return false;
    }
    if (table->row_count <= 1) {
        return good && pd_faults_add(faults, table->path, 0, NULL,
                                     "no rows below the column heads, expected hours in each");
    }
    take_currency(scenario, &heads, table);
    for (size_t number = 1; number < table->row_count; number++) {
        struct pd_row row = {&heads, table, number, faults};
        good = read_row(scenario, &row) && good;
    }
    return good;
}

bool pd_read_tariff(struct pd_scenario *scenario, struct pd_faults *faults)
{
    return pd_read_if_there(scenario, "tariff.csv", PD_TARIFF_HOURS, read_rows, faults);
}
