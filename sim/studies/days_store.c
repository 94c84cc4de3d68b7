/* A day is there when each strategy's row is. */
#include "studies/days_store.h"

#include "base/memory.h"
#include "output/database.h"
#include "studies/fingerprint.h"

#include <pumpday/pumpday.h>

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Columns of the figures, their units in SI behind. */
static const char *const columns[] = {
    [PD_FIGURE_STARTS] = "starts",
    [PD_FIGURE_WORST_HOUR] = "starts_in_worst_hour",
    [PD_FIGURE_RUN_TIME] = "run_time_s",
    [PD_FIGURE_SHORTEST_RUN] = "shortest_run_s",
    [PD_FIGURE_SHORTEST_REST] = "shortest_rest_s",
    [PD_FIGURE_ENERGY] = "energy_J",
    [PD_FIGURE_COST] = "cost",
    [PD_FIGURE_WATER] = "delivered_m3",
    [PD_FIGURE_LOWEST_TAP] = "lowest_tap_pressure_Pa",
    [PD_FIGURE_HIGHEST] = "highest_header_pressure_Pa",
    [PD_FIGURE_LEVEL] = "supply_level_m",
};
_Static_assert(sizeof columns / sizeof columns[0] == PD_FIGURE_COUNT, "a column for each figure");

enum { KEY_MOST = 96 };

struct days_store {
    struct database *database;
    const struct pd_days *days; /* for their strategies */
    long most;                  /* days asked for */
};

struct days_store *days_store_open(const struct pd_scenario *scenario,
                                   const struct pd_days_options *options,
                                   const struct pd_days *days, struct pd_error *error)
{
    struct days_store *store = pd_memory_resize(NULL, sizeof *store);
    char key[KEY_MOST];

    if (store == NULL) {
        (void)pd_error_memory(error);
        return NULL;
    }
    *store = (struct days_store){.days = days, .most = options->count};
    (void)snprintf(key, sizeof key, "%016" PRIx64 " seed %" PRIu64 " tolerance %g%s %s",
                   household_fingerprint(scenario), options->seed, options->day.relative_tolerance,
                   options->carry ? " carry" : "", PD_VERSION);
    store->database = database_open(options->database, columns, PD_FIGURE_COUNT, error);
    if (store->database == NULL ||
        !database_run(store->database, key, scenario->title, options->seed, error)) {
        days_store_close(store);
        return NULL;
    }
    return store;
}

void days_store_close(struct days_store *store)
{
    if (store != NULL) {
        database_close(store->database);
        free(store);
    }
}

/* Rows while they are taken. */
struct taking {
    const struct days_store *store;
    struct pd_days *days; /* NULL: they are only counted */
    long most;            /* days that are wanted, and that there is room for */
    long whole;           /* days that are there under each strategy */
    long day;             /* the one whose rows come */
    size_t seen;          /* of its strategies */
};

static size_t strategy_of(const struct pd_days *days, const char *name)
{
    size_t i = 0;

    while (i < days->strategy_count && strcmp(days->strategy[i].kind->name, name) != 0) {
        i++;
    }
    return i;
}

/* Figures that a day may have: somebody else may have written into the file. */
static bool is_sound(const struct database_day *row)
{
    const double most = 1e12;

    for (size_t i = 0; i < PD_FIGURE_COUNT; i++) {
        bool any_sign = i == PD_FIGURE_LOWEST_TAP || i == PD_FIGURE_HIGHEST || i == PD_FIGURE_LEVEL;
        bool below = !any_sign && row->figures[i] < 0;
        if (below || fabs(row->figures[i]) > most) {
            return false;
        }
    }
    return row->faults >> PD_FAULT_COUNT == 0;
}

static bool take(void *context, const struct database_day *row)
{
    struct taking *taking = context;
    const struct pd_days *asked = taking->store->days;
    size_t strategy = strategy_of(asked, row->strategy);
    size_t place = (size_t)(row->day - 1) * asked->strategy_count + strategy;

    // after a day that is not whole the rest is made anew
    if (row->day != taking->whole + 1 || row->day > taking->most) {
        return row->day <= taking->whole;
    }
    if (strategy == asked->strategy_count) {
        return true;
    }
    if (!is_sound(row)) {
        return false;
    }
    taking->seen = row->day == taking->day ? taking->seen + 1 : 1;
    taking->day = row->day;
    if (taking->days != NULL) {
        memcpy(taking->days->figure + place * PD_FIGURE_COUNT, row->figures,
               PD_FIGURE_COUNT * sizeof *row->figures);
        taking->days->faults[place] = row->faults;
    }
    if (taking->seen == asked->strategy_count) {
        taking->whole++;
    }
    return true;
}

long days_store_count(struct days_store *store, struct pd_error *error)
{
    struct taking taking = {.store = store, .most = store->most};

    return database_each(store->database, take, &taking, error) ? taking.whole : -1;
}

bool days_store_load(struct days_store *store, struct pd_days *days, long count,
                     struct pd_error *error)
{
    struct taking taking = {.store = store, .days = days, .most = count};

    if (!database_each(store->database, take, &taking, error)) {
        return false;
    }
    days->count = taking.whole;
    return true;
}

bool days_store_add(struct days_store *store, const struct pd_days *days, long first, long end,
                    struct pd_error *error)
{
    if (!database_begin(store->database, error)) {
        return false;
    }
    for (long day = first; day < end; day++) {
        for (size_t i = 0; i < days->strategy_count; i++) {
            size_t place = (size_t)day * days->strategy_count + i;
            char verdict[PD_VERDICT_MOST];
            pd_days_verdict(days->faults[place], verdict);
            struct database_day row = {
                .day = day + 1,
                .kind = pd_day_kind_name(pd_day_kind_of(&days->calendar, days->seed, day + 1)),
                .strategy = days->strategy[i].kind->name,
                .figures = days->figure + place * PD_FIGURE_COUNT,
                .faults = days->faults[place],
                .verdict = verdict,
            };
            if (!database_add(store->database, &row, error)) {
                return false;
            }
        }
    }
    return database_commit(store->database, error);
}
