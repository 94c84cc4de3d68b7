/* Reads demand.csv: a row a draw, in the order of their times. */
#include "scenario/columns.h"
#include "scenario/read.h"
#include "scenario/table.h"

#include "base/memory.h"
#include "base/text.h"

#include <math.h>
#include <string.h>

enum { ROWS_MOST = PD_DRAWS_MOST, SHOWN = 48 };
enum { COLUMN_TIME, COLUMN_FLOW, COLUMN_DURATION, COLUMN_VOLUME, COLUMN_FIXTURE, COLUMN_COUNT };

static const struct pd_column columns[COLUMN_COUNT] = {
    [COLUMN_TIME] = {"time", {PD_KIND_TIME, "h", 0, 24}, true, true},
    [COLUMN_FLOW] = {"flow", {PD_KIND_FLOW, "L/min", 0.001, 1e5}, false, true},
    [COLUMN_DURATION] = {"duration", {PD_KIND_TIME, "s", 0.001, 86400}, false, false},
    [COLUMN_VOLUME] = {"volume", {PD_KIND_VOLUME, "L", 0.0001, 1e7}, false, false},
    [COLUMN_FIXTURE] = {"fixture", {PD_KIND_TEXT, "", 0, 0}, false, false},
};

static bool read_time(struct pd_draw *draw, const struct pd_heads *heads, struct pd_table *table,
                      size_t row, struct pd_faults *faults)
{
    char shown[SHOWN];
    if (!pd_heads_number(heads, table, row, COLUMN_TIME, &draw->time, faults)) {
        return false;
    }
    if (draw->time < 86400.0) {
        return true;
    }
    pd_text_show(shown, sizeof shown, pd_heads_text(heads, table, row, COLUMN_TIME));
    return pd_faults_add(faults, table->path, table->rows[row].line, "time",
                         "not within the day, got \"%s\", expected a time before 24:00", shown);
}

// exactly one of duration and volume
static bool read_end(struct pd_draw *draw, const struct pd_heads *heads, struct pd_table *table,
                     size_t row, struct pd_faults *faults)
{
    bool timed = pd_heads_text(heads, table, row, COLUMN_DURATION)[0] != '\0';
    bool measured = pd_heads_text(heads, table, row, COLUMN_VOLUME)[0] != '\0';
    draw->duration = NAN;
    draw->volume = NAN;
    if (timed == measured) {
        return pd_faults_add(faults, table->path, table->rows[row].line, "duration",
                             "got %s, expected either a duration or a volume",
                             timed ? "both a duration and a volume"
                                   : "neither a duration nor a volume");
    }
    return timed ? pd_heads_number(heads, table, row, COLUMN_DURATION, &draw->duration, faults)
                 : pd_heads_number(heads, table, row, COLUMN_VOLUME, &draw->volume, faults);
}

static bool read_fixture(struct pd_draw *draw, const struct pd_heads *heads, struct pd_table *table,
                         size_t row, struct pd_faults *faults)
{
    char shown[SHOWN];
    const char *text = pd_heads_text(heads, table, row, COLUMN_FIXTURE);
    if (pd_text_trim(draw->fixture, sizeof draw->fixture, text, strlen(text))) {
        return true;
    }
    pd_text_show(shown, sizeof shown, text);
    return pd_faults_add(faults, table->path, table->rows[row].line, "fixture",
                         "the text is too long, got \"%s\", expected at most %d bytes", shown,
                         PD_FIXTURE_MOST - 1);
}

static bool read_draw(struct pd_draw *draw, const struct pd_heads *heads, struct pd_table *table,
                      size_t row, struct pd_faults *faults)
{
    bool good = pd_heads_row_fits(table, row, faults);
    good = read_time(draw, heads, table, row, faults) && good;
    good = pd_heads_number(heads, table, row, COLUMN_FLOW, &draw->flow, faults) && good;
    good = read_end(draw, heads, table, row, faults) && good;
    return read_fixture(draw, heads, table, row, faults) && good;
}

static bool in_order(const struct pd_draw *draws, const struct pd_heads *heads,
                     const struct pd_table *table, size_t row, struct pd_faults *faults)
{
    char now[SHOWN];
    char last[SHOWN];
    if (row < 2 || draws[row - 1].time >= draws[row - 2].time) {
        return true;
    }
    pd_text_show(now, sizeof now, pd_heads_text(heads, table, row, COLUMN_TIME));
    pd_text_show(last, sizeof last, pd_heads_text(heads, table, row - 1, COLUMN_TIME));
    return pd_faults_add(faults, table->path, table->rows[row].line, "time",
                         "out of order, got \"%s\" after \"%s\", expected times that rise or stay",
                         now, last);
}

static bool read_draws(struct pd_scenario *scenario, struct pd_table *table,
                       struct pd_faults *faults)
{
    struct pd_heads heads;
    bool good = !table->damaged;
    bool last_good = false;
    if (!pd_heads_read(&heads, columns, COLUMN_COUNT, table, faults)) {
        return false;
    }
    size_t count = table->row_count - 1;
    if (count == 0) {
        return good && pd_faults_add(faults, table->path, 0, NULL,
                                     "no rows below the column heads, expected a draw in each");
    }
    scenario->draws = pd_memory_resize(NULL, count * sizeof *scenario->draws);
    if (scenario->draws == NULL) {
        return pd_faults_add(faults, table->path, 0, NULL, "memory ran out");
    }
    scenario->draw_count = count;
    for (size_t row = 1; row <= count; row++) {
        struct pd_draw *draw = &scenario->draws[row - 1];
        *draw = (struct pd_draw){.time = 0.0};
        bool row_good = read_draw(draw, &heads, table, row, faults);
        good = row_good && good;
        // two rows that could be read are in order or not
        if (row_good && last_good) {
            good = in_order(scenario->draws, &heads, table, row, faults) && good;
        }
        last_good = row_good;
    }
    return good;
}

bool pd_read_demand(struct pd_scenario *scenario, struct pd_faults *faults)
{
    return pd_read_if_there(scenario, "demand.csv", ROWS_MOST, read_draws, faults);
}
