/* Rows of many days in one SQLite file, added a batch at a time: each whole or not at all.
 *
 *   run  id, key (what its days depend on), title, seed, program
 *   day  run, day, kind (weekday, weekend, holiday, away), strategy, the figures in SI with their
 *        units in their names, faults (a bit each), verdict; one row for each day and strategy of a
 *        run
 *
 * The only user of sqlite3. */
#ifndef PUMPDAY_OUTPUT_DATABASE_H
#define PUMPDAY_OUTPUT_DATABASE_H

#include <pumpday/error.h>

#include <stddef.h>
#include <stdint.h>

struct database;

/* A row of the table of days. */
struct database_day {
    long day;
    const char *kind; /* "weekday", ... */
    const char *strategy;
    const double *figures; /* as many as columns were named; NAN: none */
    uint32_t faults;
    const char *verdict;
};

/* Opens a file, or makes it, with columns of these names for figures.  NULL and PD_OUTPUT_FAILED if
 * it cannot be, or is another kind of file, which stays as it is. */
struct database *database_open(const char *path, const char *const *columns, size_t count,
                               struct pd_error *error);
void database_close(struct database *database);

/* Finds the run of a key, or begins one; its days are those that follow. */
bool database_run(struct database *database, const char *key, const char *title, uint64_t seed,
                  struct pd_error *error);

/* Between these two, all rows or none. */
bool database_begin(struct database *database, struct pd_error *error);
bool database_add(struct database *database, const struct database_day *day,
                  struct pd_error *error);
bool database_commit(struct database *database, struct pd_error *error);

/* Hands over the run's rows by day, until one is refused. */
bool database_each(struct database *database,
                   bool (*take)(void *context, const struct database_day *day), void *context,
                   struct pd_error *error);

#endif
