/* Reads household.csv: a row an end use. */
#include "scenario/columns.h"
#include "scenario/read.h"
#include "scenario/table.h"

#include "base/text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { WEIGHT_MOST = 32 };

enum {
    COLUMN_USE,
    COLUMN_DRAWS,
    COLUMN_FLOW,
    COLUMN_FLOW_SPREAD,
    COLUMN_DURATION,
    COLUMN_VOLUME,
    COLUMN_SPREAD,
    COLUMN_LAW,
    COLUMN_WEEKDAY,
    COLUMN_WEEKEND,
    COLUMN_DAY_SPREAD,
    COLUMN_CLUSTER,
    COLUMN_GAP,
    COLUMN_HOURS,
    COLUMN_COUNT
};

static const struct pd_column columns[] = {
    [COLUMN_USE] = {"use", {PD_KIND_TEXT, "", 0, 0}, false, true},
    [COLUMN_DRAWS] = {"draws_per_day", {PD_KIND_NUMBER, "", 0, 1e5}, false, true},
    [COLUMN_FLOW] = {"flow", {PD_KIND_FLOW, "L/min", 0.01, 1e5}, false, true},
    [COLUMN_FLOW_SPREAD] = {"flow_spread", {PD_KIND_NUMBER, "", 0, 3}, false, false},
    [COLUMN_DURATION] = {"duration", {PD_KIND_TIME, "s", 0.1, 86400}, false, false},
    [COLUMN_VOLUME] = {"volume", {PD_KIND_VOLUME, "L", 0.01, 1e6}, false, false},
    [COLUMN_SPREAD] = {"spread", {PD_KIND_NUMBER, "", 0, 5}, false, false},
    [COLUMN_LAW] = {"law", {PD_KIND_TEXT, "", 0, 0}, false, false},
    [COLUMN_WEEKDAY] = {"weekday", {PD_KIND_NUMBER, "", 0, 100}, false, false},
    [COLUMN_WEEKEND] = {"weekend", {PD_KIND_NUMBER, "", 0, 100}, false, false},
    [COLUMN_DAY_SPREAD] = {"day_spread", {PD_KIND_NUMBER, "", 0, 3}, false, false},
    [COLUMN_CLUSTER] = {"cluster", {PD_KIND_NUMBER, "", 1, 1000}, false, false},
    [COLUMN_GAP] = {"gap", {PD_KIND_TIME, "s", 0, 43200}, false, false},
    [COLUMN_HOURS] = {"hours", {PD_KIND_TEXT, "", 0, 0}, false, false},
};

_Static_assert(sizeof columns / sizeof columns[0] == COLUMN_COUNT, "a row for each column");
_Static_assert((int)COLUMN_COUNT <= (int)PD_COLUMNS_MOST, "heads have room for all");

/* A number, or what stands for an empty cell. */
static bool read_number(const struct pd_row *row, size_t column, double unless, double *value)
{
    *value = unless;
    if (pd_row_text(row, column)[0] == '\0' && !columns[column].required) {
        return true;
    }
    return pd_heads_number(row->heads, row->table, row->number, column, value, row->faults);
}

static bool read_name(const struct pd_row *row, struct pd_use *use)
{
    const char *text = pd_row_text(row, COLUMN_USE);

    if (text[0] == '\0') {
        return pd_row_wrong(row, COLUMN_USE, "no name", "what the water is used for");
    }
    if (pd_text_trim(use->name, sizeof use->name, text, strlen(text))) {
        return true;
    }
    return pd_row_wrong(row, COLUMN_USE, "the text is too long", "at most 31 bytes");
}

static bool read_law(const struct pd_row *row, struct pd_use *use)
{
    const char *text = pd_row_text(row, COLUMN_LAW);

    use->law = strcmp(text, "gamma") == 0 ? PD_LAW_GAMMA : PD_LAW_LOGNORMAL;
    if (text[0] == '\0' || use->law == PD_LAW_GAMMA || strcmp(text, "lognormal") == 0) {
        return true;
    }
    return pd_row_wrong(row, COLUMN_LAW, "unknown law", "lognormal or gamma");
}

/* How a draw ends: exactly one of duration and volume. */
static bool read_size(const struct pd_row *row, struct pd_use *use)
{
    bool timed = pd_row_text(row, COLUMN_DURATION)[0] != '\0';
    bool measured = pd_row_text(row, COLUMN_VOLUME)[0] != '\0';

    if (timed == measured) {
        return pd_row_wrong(row, COLUMN_DURATION,
                            timed ? "both a duration and a volume"
                                  : "neither a duration nor a volume",
                            "one of them");
    }
    return read_number(row, COLUMN_DURATION, NAN, &use->duration) &&
           read_number(row, COLUMN_VOLUME, NAN, &use->volume);
}

/* 24 weights, spaces between. */
static bool read_weights(const char *text, double weights[PD_USE_HOURS])
{
    for (int hour = 0; hour < PD_USE_HOURS; hour++) {
        char weight[WEIGHT_MOST];
        text += strspn(text, " ");
        size_t length = strcspn(text, " ");
        if (!pd_text_trim(weight, sizeof weight, text, length) ||
            pd_text_number(weight, &weights[hour], NULL) != PD_NUMBER_GOOD ||
            !(weights[hour] >= 0) || !(weights[hour] <= 1e9)) {
            return false;
        }
        text += length;
    }
    return text[strspn(text, " ")] == '\0';
}

static bool read_hours(const struct pd_row *row, struct pd_use *use)
{
    const char *text = pd_row_text(row, COLUMN_HOURS);
    const double *named = pd_hours_find(text[0] != '\0' ? text : "even");
    double sum = 0;

    if (named != NULL) {
        memcpy(use->hours, named, sizeof use->hours);
    } else if (!read_weights(text, use->hours)) {
        return pd_row_wrong(
            row, COLUMN_HOURS, "no hours",
            "even, taps, wc, shower, laundry, dishes or 24 numbers with spaces between");
    }
    for (int hour = 0; hour < PD_USE_HOURS; hour++) {
        sum += use->hours[hour];
    }
    if (!(sum > 0)) {
        return pd_row_wrong(row, COLUMN_HOURS, "all of them are 0", "one over it at least");
    }
    for (int hour = 0; hour < PD_USE_HOURS; hour++) {
        use->hours[hour] /= sum;
    }
    return true;
}

static bool read_use(const struct pd_row *row, struct pd_use *use)
{
    bool good = pd_heads_row_fits(row->table, row->number, row->faults);

    good = read_name(row, use) && good;
    good = read_number(row, COLUMN_DRAWS, 0, &use->draws_per_day) && good;
    good = read_number(row, COLUMN_FLOW, NAN, &use->flow) && good;
    good = read_number(row, COLUMN_FLOW_SPREAD, 0, &use->flow_spread) && good;
    good = read_size(row, use) && good;
    good = read_number(row, COLUMN_SPREAD, 0, &use->spread) && good;
    good = read_law(row, use) && good;
    good = read_number(row, COLUMN_WEEKDAY, 1, &use->weekday) && good;
    good = read_number(row, COLUMN_WEEKEND, 1, &use->weekend) && good;
    good = read_number(row, COLUMN_DAY_SPREAD, 0, &use->day_spread) && good;
    good = read_number(row, COLUMN_CLUSTER, 1, &use->cluster) && good;
    good = read_number(row, COLUMN_GAP, 0, &use->gap) && good;
    return read_hours(row, use) && good;
}

static bool read_uses(struct pd_scenario *scenario, struct pd_table *table,
                      struct pd_faults *faults)
{
    struct pd_heads heads;
    bool good = !table->damaged;

    if (!pd_heads_read(&heads, columns, COLUMN_COUNT, table, faults)) {
        return false;
    }
    if (table->row_count <= 1) {
        return good && pd_faults_add(faults, table->path, 0, NULL,
                                     "no rows below the column heads, expected a use in each");
    }
    for (size_t number = 1; number < table->row_count; number++) {
        struct pd_row row = {&heads, table, number, faults};
        struct pd_use *use = &scenario->uses[scenario->use_count++];
        *use = (struct pd_use){.flow = 0};
        good = read_use(&row, use) && good;
    }
    return good;
}

bool pd_read_household(struct pd_scenario *scenario, struct pd_faults *faults)
{
    return pd_read_if_there(scenario, "household.csv", PD_USES_MOST, read_uses, faults);
}
